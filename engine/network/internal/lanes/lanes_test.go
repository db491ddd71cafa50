package lanes

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

// The loops of the processor give, bit for bit, what those in Go give, for every
// length and with entries that are not numbers, infinite or too small.
func TestAsInGo(t *testing.T) {
	had := wide
	defer func() { wide = had }()
	for range 2 { // the loops in Go keep to the order, too
		asInGo(t)
		wide = false
	}
}

func asInGo(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	odd := []float64{0, math.Copysign(0, -1), math.Inf(1), math.Inf(-1), math.NaN(), 5e-324, -1e-310, 1e308}
	table := func(n int, strange bool) []float64 {
		c := make([]float64, n)
		for x := range c {
			c[x] = math.Ldexp(rng.NormFloat64(), rng.IntN(40)-20)
			if strange && rng.IntN(9) == 0 {
				c[x] = odd[rng.IntN(len(odd))]
			}
		}
		return c
	}
	same := func(what string, n int, got, want []float64) {
		t.Helper()
		for x := range want {
			if math.Float64bits(got[x]) != math.Float64bits(want[x]) && !(math.IsNaN(got[x]) && math.IsNaN(want[x])) {
				t.Fatalf("%s of %d: entry %d is %v, want %v", what, n, x, got[x], want[x])
			}
		}
	}
	for trial := range 400 {
		strange := trial%2 == 1
		n := 1 + rng.IntN(70)
		if trial%3 == 0 {
			n = 1 << rng.IntN(13)
		}
		a, b := table(n, strange), table(n, strange)
		want := make([]float64, n)
		got := make([]float64, n)
		for x := range a {
			want[x] = a[x] * b[x]
		}
		Mul(got, a, b)
		same("product", n, got, want)
		copy(got, a)
		Mul(got, got, b)
		same("product in place", n, got, want)
		for x := range a {
			want[x] = a[x] + b[x]
		}
		Add(got, a, b)
		same("sum", n, got, want)
		for x := range a {
			want[x] = a[x] * 0.3
		}
		Scale(got, a, 0.3)
		same("multiple", n, got, want)

		top, low := 0.0, math.Inf(1)
		for _, x := range a {
			if math.Abs(x) > top {
				top = math.Abs(x)
			}
			if math.Abs(x) < low {
				low = math.Abs(x)
			}
		}
		same("largest", n, []float64{Largest(a), Least(a)}, []float64{top, low})

		v, e := sums(a)
		gotV, gotE := Sums(a)
		same("total", n, []float64{gotV, gotE, Sum(a)}, []float64{v, e, v})

		k := rng.IntN(13)
		c := table(1<<k, strange)
		j := rng.IntN(k + 1)
		row := table(1<<j, strange)
		want, got = make([]float64, len(c)), make([]float64, len(c))
		for x := range c {
			want[x] = c[x] * row[x%len(row)]
		}
		Rows(got, c, row)
		same("rows", len(c), got, want)
		copy(got, c)
		Rows(got, got, row)
		same("rows in place", len(c), got, want)

		// Places as a gather has them: those bits of an index that are in a mask.
		run := rng.IntN(k + 1)
		mask := rng.IntN(1<<k)&^(1<<run-1) | (1<<run - 1)
		place := make([]int32, len(c))
		for x := range place {
			at := 0
			for i := range k {
				if mask>>i&1 != 0 {
					place[x] |= int32(x>>i&1) << at
					at++
				}
			}
		}
		base := rng.IntN(9)
		m := table(base+1+int(place[len(place)-1]), strange)
		for x := range c {
			want[x] = c[x] * m[base+int(place[x])]
		}
		Runs(got, c, m, place, base, 1<<run)
		same("runs", len(c), got, want)
		Gather(got, c, m, place, base)
		same("gathered", len(c), got, want)
		for x := range c {
			want[x] = m[base+int(place[x])]
		}
		Gather(got, nil, m, place, base)
		same("gathered alone", len(c), got, want)

		if k == 0 {
			continue
		}
		s := 1 << rng.IntN(k)
		half := len(c) / 2
		for o := range half {
			at := o/s*2*s + o%s
			want[o] = c[at] + c[at+s]
		}
		Fold(got[:half], c, s)
		same("halves", len(c), got[:half], want[:half])
		Fold(c[:half], c, s)
		same("halves in place", len(c), c[:half], want[:half])
	}
}

// sums adds up in the order that Sums promises.
func sums(c []float64) (sum, size float64) {
	if len(c) > block {
		v1, e1 := sums(c[:len(c)/2])
		v2, e2 := sums(c[len(c)/2:])
		return v1 + v2, e1 + e2
	}
	var v, e [8]float64
	n := len(c) &^ 7
	for x, y := range c[:n] {
		v[x%8] += y
		e[x%8] += math.Abs(y)
	}
	if n > 0 {
		sum, size = across(&v), across(&e)
	}
	for _, y := range c[n:] {
		sum += y
		size += math.Abs(y)
	}
	return sum, size
}

func BenchmarkRows(b *testing.B) {
	for _, k := range []int{10, 14, 18} {
		c, row := make([]float64, 1<<k), make([]float64, 1<<6)
		b.Run(strconv.Itoa(k), func(b *testing.B) {
			b.SetBytes(8 << k)
			for b.Loop() {
				Rows(c, c, row)
			}
		})
	}
}

func BenchmarkFold(b *testing.B) {
	c, out := make([]float64, 1<<14), make([]float64, 1<<13)
	for s := 1; s <= 1<<13; s *= 8 {
		b.Run(strconv.Itoa(s), func(b *testing.B) {
			b.SetBytes(8 << 14)
			for b.Loop() {
				Fold(out, c, s)
			}
		})
	}
}
