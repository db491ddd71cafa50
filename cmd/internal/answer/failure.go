package answer

import (
	"context"
	"errors"

	"slipcase/engine"
)

// Code says what kind of failure it is. It stands in the JSON envelope, gives
// the exit code of a command and the status of a page.
type Code string

// The codes.
const (
	NotFound    Code = "not_found"   // what was named is not there
	WrongUse    Code = "wrong_use"   // it was asked for in a way that cannot be
	Conflict    Code = "conflict"    // it does not go with how things stand now
	Damaged     Code = "damaged"     // what is stored cannot be made sense of
	Unavailable Code = "unavailable" // a file or folder cannot be read or written just now
	TooWide     Code = "too_wide"    // too many causes are tied together to be worked out
	Canceled    Code = "canceled"    // the asker gave up
	Rules       Code = "rules"       // errors in rule, unit or case files
	Clash       Code = "clash"       // reports that contradict each other
	Internal    Code = "internal"    // a mistake of the program
)

// Codes are all codes.
var Codes = []Code{NotFound, WrongUse, Conflict, Damaged, Unavailable, TooWide, Canceled, Rules, Clash, Internal}

// Failure is an operation that could not be done.
type Failure struct {
	Code     Code
	Rules    string // fingerprint, as far as the rules were loaded
	Messages []Message
	Err      error
}

// Fail is a failure with one message without a place in a file.
func Fail(code Code, summary, detail string, hints ...Hint) *Failure {
	return &Failure{Code: code, Messages: []Message{Error(summary, detail, hints...)}}
}

// Error is the first message of severity error.
func (f *Failure) Error() string {
	for _, m := range f.Messages {
		if m.Severity == engine.Error {
			return m.Diagnostic.Error()
		}
	}
	if f.Err != nil {
		return f.Err.Error()
	}
	return "failed"
}

// Unwrap gives the error behind.
func (f *Failure) Unwrap() error { return f.Err }

// Under is the failure with the fingerprint of the rules that it came up with.
// One that several requests share is not changed.
func (f *Failure) Under(rules string) *Failure {
	g := *f
	g.Rules = rules
	return &g
}

// Because is the failure with the error behind it.
func (f *Failure) Because(err error) *Failure {
	f.Err = err
	return f
}

// AsFailure gives the failure in err, or makes one of any other error:
// Canceled where the asker gave up, Internal otherwise.
func AsFailure(err error) *Failure {
	var f *Failure
	if errors.As(err, &f) {
		return f
	}
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return Fail(Canceled, "stopped before it was done", "").Because(err)
	}
	return Fail(Internal, err.Error(), "").Because(err)
}
