// Package lanes holds the inner loops over tables of float64: element by element, in
// an order that does not depend on the processor, so that every machine gives the same
// digits. On amd64 with AVX2 they run four entries at a time (lanes_amd64.s), elsewhere
// in Go. No product is fused with a sum.
package lanes

import "math"

// Mul sets dst = a × b, entry by entry. dst may be a or b; all have the length of dst.
func Mul(dst, a, b []float64) {
	a, b = a[:len(dst)], b[:len(dst)]
	n := 0
	if wide && len(dst) >= 8 {
		n = len(dst) &^ 7
		mulWide(&dst[0], &a[0], &b[0], n)
	}
	for x := n; x < len(dst); x++ {
		dst[x] = a[x] * b[x]
	}
}

// Add sets dst = a + b, entry by entry. dst may be a or b; all have the length of dst.
func Add(dst, a, b []float64) {
	a, b = a[:len(dst)], b[:len(dst)]
	n := 0
	if wide && len(dst) >= 8 {
		n = len(dst) &^ 7
		addWide(&dst[0], &a[0], &b[0], n)
	}
	for x := n; x < len(dst); x++ {
		dst[x] = a[x] + b[x]
	}
}

// Scale sets dst = f × a. dst may be a and has its length.
func Scale(dst, a []float64, f float64) {
	a = a[:len(dst)]
	n := 0
	if wide && len(dst) >= 8 {
		n = len(dst) &^ 7
		scaleWide(&dst[0], &a[0], f, n)
	}
	for x := n; x < len(dst); x++ {
		dst[x] = f * a[x]
	}
}

// Rows sets dst = src × row, which repeats; len(row) is a power of two that divides
// len(dst). dst may be src.
func Rows(dst, src, row []float64) {
	src = src[:len(dst)]
	n := len(row)
	if wide && n < 32 && len(dst) > n && len(dst) >= 8 {
		// Several short rows at a time.
		var several [32]float64
		m := min(len(several), len(dst))
		for x := 0; x < m; x += n {
			copy(several[x:], row)
		}
		n, row = m, several[:m]
	}
	for at := 0; at < len(dst); at += n {
		Mul(dst[at:at+n], src[at:at+n], row)
	}
}

// Runs sets dst = src × what m holds from each of the places on: place[0] for the first
// n entries, place[n] for the next n, and so on; places count from base. n and len(dst)
// are powers of two, n the smaller. No place may be beyond that of the last run, as of
// indexes some bits of which are moved together: the others are not looked at. dst may
// be src.
func Runs(dst, src, m []float64, place []int32, base, n int) {
	src, place = src[:len(dst)], place[:len(dst)]
	m = m[base:]
	if wide && n >= 8 {
		_ = m[int(place[len(dst)-n])+n-1]
		runsWide(&dst[0], &src[0], &m[0], &place[0], n, len(dst)/n)
		return
	}
	for x := 0; x < len(dst); x += n {
		o := int(place[x])
		by, a, b := m[o:o+n:o+n], src[x:x+n:x+n], dst[x:x+n:x+n]
		for y := range by {
			b[y] = a[y] * by[y]
		}
	}
}

// Gather sets dst[x] = src[x] × m[base+place[x]]; src nil stands for ones. No place may
// be beyond the last, see Runs. dst may be src.
func Gather(dst, src, m []float64, place []int32, base int) {
	place = place[:len(dst)]
	m = m[base:]
	if src == nil {
		for x := range dst {
			dst[x] = m[place[x]]
		}
		return
	}
	src = src[:len(dst)]
	n := 0
	if wide && len(dst) >= 8 {
		n = len(dst) &^ 7
		_ = m[place[len(dst)-1]]
		gatherWide(&dst[0], &src[0], &m[0], &place[0], n)
	}
	for x := n; x < len(dst); x++ {
		dst[x] = src[x] * m[place[x]]
	}
}

// Fold sums pairs of blocks of s entries: the first s entries of dst are the first s of
// c and the next s, and so on. dst has half the length of c and may be its head.
func Fold(dst, c []float64, s int) {
	c = c[:2*len(dst)]
	switch {
	case s == 1 && (!wide || len(dst) < 8):
		for o := range dst {
			dst[o] = c[2*o] + c[2*o+1]
		}
	case s >= 64 || !wide || len(dst) < 8:
		for at, o := 0, 0; o < len(dst); at, o = at+2*s, o+s {
			Add(dst[o:o+s], c[at:at+s], c[at+s:at+2*s])
		}
	case s >= 4:
		foldWide(&dst[0], &c[0], s, len(dst)/s)
	case s == 2:
		fold2Wide(&dst[0], &c[0], len(dst)/4)
	default:
		fold1Wide(&dst[0], &c[0], len(dst)/4)
	}
}

// block is how many entries are summed one after the other, in eight lanes; blocks are
// summed in pairs, so that rounding stays small.
const block = 256

// Sums adds up a table, and its entries without their signs.
func Sums(c []float64) (sum, size float64) {
	if len(c) > block {
		h := len(c) / 2
		v1, e1 := Sums(c[:h])
		v2, e2 := Sums(c[h:])
		return v1 + v2, e1 + e2
	}
	n := len(c) &^ 7
	if n > 0 {
		var v, e [8]float64
		if wide {
			sumsWide(&c[0], n, &v, &e)
		} else {
			for x := 0; x < n; x += 8 {
				for i, y := range c[x : x+8] {
					v[i] += y
					e[i] += math.Abs(y)
				}
			}
		}
		sum, size = across(&v), across(&e)
	}
	for _, x := range c[n:] {
		sum += x
		size += math.Abs(x)
	}
	return sum, size
}

// Sum is the first result of Sums.
func Sum(c []float64) (sum float64) {
	if len(c) > block {
		h := len(c) / 2
		return Sum(c[:h]) + Sum(c[h:])
	}
	n := len(c) &^ 7
	if n > 0 {
		var v [8]float64
		if wide {
			sumWide(&c[0], n, &v)
		} else {
			for x := 0; x < n; x += 8 {
				for i, y := range c[x : x+8] {
					v[i] += y
				}
			}
		}
		sum = across(&v)
	}
	for _, x := range c[n:] {
		sum += x
	}
	return sum
}

func across(v *[8]float64) float64 {
	return ((v[0] + v[4]) + (v[2] + v[6])) + ((v[1] + v[5]) + (v[3] + v[7]))
}

// Largest is the largest entry without its sign; 0 of none, and NaN counts for nothing.
func Largest(c []float64) (top float64) {
	n := 0
	if wide && len(c) >= 8 {
		n = len(c) &^ 7
		top = largestWide(&c[0], n)
	}
	for _, x := range c[n:] {
		if v := math.Abs(x); v > top {
			top = v
		}
	}
	return top
}

// Least is the smallest entry without its sign; infinity of none, and NaN counts for
// nothing.
func Least(c []float64) (low float64) {
	low = math.Inf(1)
	n := 0
	if wide && len(c) >= 8 {
		n = len(c) &^ 7
		low = leastWide(&c[0], n)
	}
	for _, x := range c[n:] {
		if v := math.Abs(x); v < low {
			low = v
		}
	}
	return low
}
