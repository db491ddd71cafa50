package desk

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"math"
	"math/big"
	"strconv"

	"slipcase/engine"
)

// Envelope is what --json prints, on success and on failure. Its fields and
// those of Data stay as they are within one Schema; new fields may be added.
//
//	schema       "slipcase/COMMAND/1"
//	rules        fingerprint of every rule byte that was loaded, hex; "" when none were
//	method       how the answer was reached, in words; "" when nothing was worked out
//	data         the answer; null on failure
//	diagnostics  what is wrong and where, errors and warnings; [] when nothing
//
// Numbers have 9 significant digits. The same input gives the same bytes.
type Envelope struct {
	Schema      string              `json:"schema"`
	Rules       string              `json:"rules"`
	Method      string              `json:"method"`
	Data        any                 `json:"data"`
	Diagnostics []engine.Diagnostic `json:"diagnostics"`
}

// Write prints the envelope, indented, with a line feed at the end.
func (e Envelope) Write(w io.Writer) error {
	if e.Diagnostics == nil {
		e.Diagnostics = []engine.Diagnostic{}
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(e); err != nil {
		return err
	}
	_, err := w.Write(b.Bytes())
	return err
}

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

// ratio turns a rational into plain data; nil stays nil.
func ratio(r *big.Rat) *Ratio {
	if r == nil {
		return nil
	}
	f, _ := r.Float64()
	return &Ratio{Exact: r.RatString(), Value: Num(f)}
}

// Failure is an operation that could not be done.
type Failure struct {
	Rules       string // fingerprint, as far as the rules were loaded
	Diagnostics []engine.Diagnostic
	Usage       bool // the asker named something that is not there
	Err         error
}

// Error is the first diagnostic of severity error.
func (f *Failure) Error() string {
	for _, d := range f.Diagnostics {
		if d.Severity == engine.Error {
			return d.Error()
		}
	}
	if f.Err != nil {
		return f.Err.Error()
	}
	return "failed"
}

// Unwrap gives the error behind.
func (f *Failure) Unwrap() error { return f.Err }

// failed is a failure with one message without a place in a file.
func failed(summary, detail string) *Failure {
	return &Failure{Diagnostics: []engine.Diagnostic{{Severity: engine.Error, Summary: summary, Detail: detail}}}
}

// usage is a failure of the asker's.
func usage(summary, detail string) *Failure {
	f := failed(summary, detail)
	f.Usage = true
	return f
}

// AsFailure gives the failure in err, or makes one of any other error.
func AsFailure(err error) *Failure {
	var f *Failure
	if errors.As(err, &f) {
		return f
	}
	f = failed(err.Error(), "")
	f.Err = err
	return f
}

// under is err as a failure that tells the fingerprint of the rules it came up
// with.
func under(k *engine.Knowledge, err error) *Failure {
	f := AsFailure(err)
	f.Rules = k.Hash
	return f
}
