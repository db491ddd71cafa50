package answer

import (
	"math"
	"math/big"
	"strconv"
)

// Num is a number of an answer; as JSON it has 9 significant digits, and null
// where it is no number.
type Num float64

// MarshalJSON implements json.Marshaler.
func (n Num) MarshalJSON() ([]byte, error) {
	f := float64(n)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return []byte("null"), nil
	}
	s := strconv.FormatFloat(f, 'g', 9, 64)
	if s == "-0" {
		s = "0"
	}
	return []byte(s), nil
}

// Ratio is an exact number: as a fraction and as a decimal.
type Ratio struct {
	Exact string `json:"exact"` // "14/5"
	Value Num    `json:"value"`
}

// RatioOf turns a rational into plain data; nil stays nil.
func RatioOf(r *big.Rat) *Ratio {
	if r == nil {
		return nil
	}
	f, _ := r.Float64()
	return &Ratio{Exact: r.RatString(), Value: Num(f)}
}
