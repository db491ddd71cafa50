package geartrain

import "math/big"

// limit64 bounds what the 64-bit elimination multiplies: below it, a·b − c·d
// cannot overflow. One entry at or above it sends the system to big integers.
const limit64 = 1 << 31

// echelon is an integer matrix after fraction-free Gauss-Jordan elimination on
// its first columns: each pivot is the only entry in its column, and every row
// is an exact integer multiple of the rational reduced row.
type echelon struct {
	rows, cols int
	pivots     []int // column of the pivot of row 0, 1, …
	rowOf      []int // row whose pivot stands in this column; -1 for none
	small      []int64
	big        []*big.Int // set instead of small when 64 bits did not do
}

// reduce eliminates the first span columns of a (rows × cols, row by row),
// left to right. It overwrites a.
func reduce(a []int64, rows, cols, span int) *echelon {
	keep := append([]int64(nil), a...)
	e := &echelon{rows: rows, cols: cols, small: a}
	if e.eliminate64(span) {
		return e
	}
	return reduceBig(keep, rows, cols, span)
}

// reduceBig is reduce on big integers.
func reduceBig(a []int64, rows, cols, span int) *echelon {
	e := &echelon{rows: rows, cols: cols, big: make([]*big.Int, len(a))}
	for i, v := range a {
		e.big[i] = big.NewInt(v)
	}
	e.eliminateBig(span)
	return e
}

func (e *echelon) start(span int) {
	e.pivots = make([]int, 0, e.rows)
	e.rowOf = make([]int, span)
	for i := range e.rowOf {
		e.rowOf[i] = -1
	}
}

// eliminate64 reports false as soon as an entry grows too large.
func (e *echelon) eliminate64(span int) bool {
	e.start(span)
	n, a := e.cols, e.small
	for _, v := range a {
		if v >= limit64 || v <= -limit64 {
			return false
		}
	}
	for c := 0; c < span && len(e.pivots) < e.rows; c++ {
		r := len(e.pivots)
		p := -1
		for i := r; i < e.rows; i++ {
			// A pivot of ±1 keeps the other rows small.
			if v := a[i*n+c]; v != 0 && (p < 0 || v == 1 || v == -1) {
				p = i
				if v == 1 || v == -1 {
					break
				}
			}
		}
		if p < 0 {
			continue
		}
		prow := a[r*n : r*n+n]
		if p != r {
			other := a[p*n : p*n+n]
			for j := range prow {
				prow[j], other[j] = other[j], prow[j]
			}
		}
		for i := range e.rows {
			f := a[i*n+c]
			if i == r || f == 0 {
				continue
			}
			row := a[i*n : i*n+n]
			g := gcd64(prow[c], f)
			x, y := prow[c]/g, f/g
			var common int64
			for j := range row {
				row[j] = row[j]*x - prow[j]*y
				if common != 1 {
					common = gcd64(common, row[j])
				}
			}
			for j := range row {
				if common > 1 {
					row[j] /= common
				}
				if v := row[j]; v >= limit64 || v <= -limit64 {
					return false
				}
			}
		}
		e.rowOf[c] = r
		e.pivots = append(e.pivots, c)
	}
	return true
}

func (e *echelon) eliminateBig(span int) {
	e.start(span)
	n, a := e.cols, e.big
	var g, t, x, y big.Int
	for c := 0; c < span && len(e.pivots) < e.rows; c++ {
		r := len(e.pivots)
		p := r
		for p < e.rows && a[p*n+c].Sign() == 0 {
			p++
		}
		if p == e.rows {
			continue
		}
		for j := range n {
			a[r*n+j], a[p*n+j] = a[p*n+j], a[r*n+j]
		}
		pivot := a[r*n+c]
		for i := range e.rows {
			if i == r || a[i*n+c].Sign() == 0 {
				continue
			}
			g.GCD(nil, nil, t.Abs(pivot), y.Abs(a[i*n+c]))
			x.Quo(pivot, &g)
			y.Quo(a[i*n+c], &g)
			g.SetInt64(0)
			for j := range n {
				v := a[i*n+j]
				v.Mul(v, &x)
				v.Sub(v, t.Mul(a[r*n+j], &y))
				g.GCD(nil, nil, &g, t.Abs(v))
			}
			if g.Sign() != 0 {
				for j := range n {
					a[i*n+j].Quo(a[i*n+j], &g)
				}
			}
		}
		e.rowOf[c] = r
		e.pivots = append(e.pivots, c)
	}
}

// sign is the sign of the entry in row i and column j.
func (e *echelon) sign(i, j int) int {
	if e.big != nil {
		return e.big[i*e.cols+j].Sign()
	}
	switch v := e.small[i*e.cols+j]; {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// coefSign is the sign of the coefficient of pivot column p in the expression
// of column j by the pivot columns; 0 where p is no pivot.
func (e *echelon) coefSign(p, j int) int {
	r := e.rowOf[p]
	if r < 0 {
		return 0
	}
	return e.sign(r, j) * e.sign(r, p)
}

// coef is that coefficient.
func (e *echelon) coef(p, j int) *big.Rat {
	r := e.rowOf[p]
	if r < 0 {
		return new(big.Rat)
	}
	if e.big != nil {
		return new(big.Rat).SetFrac(e.big[r*e.cols+j], e.big[r*e.cols+p])
	}
	return big.NewRat(e.small[r*e.cols+j], e.small[r*e.cols+p])
}

// spans reports whether column j is a combination of the pivot columns.
func (e *echelon) spans(j int) bool {
	for i := len(e.pivots); i < e.rows; i++ {
		if e.sign(i, j) != 0 {
			return false
		}
	}
	return true
}

func gcd64(a, b int64) int64 {
	if a < 0 {
		a = -a
	}
	if b < 0 {
		b = -b
	}
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
