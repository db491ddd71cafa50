package network

import (
	"math"
	"math/big"
)

// real is the arithmetic that parameters and the precise tables need.
type real[T any] interface {
	plus(T) T
	times(T) T
	minus(T) T
	float() float64
	scale(exp int) T // times 2^exp, exact
}

// dd is an unevaluated sum of two float64, some 31 digits (Dekker 1971;
// Knuth's two-sum).
type dd struct{ hi, lo float64 }

const ddEps = 0x1p-102

func ddOf(x float64) dd { return dd{hi: x} }

func (a dd) plus(b dd) dd {
	s := a.hi + b.hi
	t := s - a.hi
	e := (a.hi - (s - t)) + (b.hi - t)
	// The accurate variant: its error bound holds for opposite signs too.
	u := a.lo + b.lo
	v := u - a.lo
	f := (a.lo - (u - v)) + (b.lo - v)
	e += u
	h := s + e
	e -= h - s
	e += f
	r := h + e
	return dd{r, e - (r - h)}
}

func (a dd) minus(b dd) dd { return a.plus(dd{-b.hi, -b.lo}) }

func (a dd) times(b dd) dd {
	p := a.hi * b.hi
	e := math.FMA(a.hi, b.hi, -p) + (a.hi*b.lo + a.lo*b.hi)
	r := p + e
	return dd{r, e - (r - p)}
}

func (a dd) float() float64 { return a.hi }

func (a dd) scale(exp int) dd {
	return dd{math.Ldexp(a.hi, exp), math.Ldexp(a.lo, exp)}
}

// bigReal is big floating point of the precision that its operands carry.
type bigReal struct{ f *big.Float }

func bigOf(prec uint) func(float64) bigReal {
	return func(x float64) bigReal {
		return bigReal{new(big.Float).SetPrec(prec).SetFloat64(x)}
	}
}

func (a bigReal) plus(b bigReal) bigReal {
	return bigReal{new(big.Float).SetPrec(a.f.Prec()).Add(a.f, b.f)}
}

func (a bigReal) minus(b bigReal) bigReal {
	return bigReal{new(big.Float).SetPrec(a.f.Prec()).Sub(a.f, b.f)}
}

func (a bigReal) times(b bigReal) bigReal {
	return bigReal{new(big.Float).SetPrec(a.f.Prec()).Mul(a.f, b.f)}
}

func (a bigReal) float() float64 { x, _ := a.f.Float64(); return x }

func (a bigReal) scale(exp int) bigReal {
	return bigReal{new(big.Float).SetPrec(a.f.Prec()).SetMantExp(a.f, exp)}
}
