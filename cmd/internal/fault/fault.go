// Package fault makes failures and messages of what package wording says of
// them, each with its code.
package fault

import (
	"errors"
	"slices"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/network"
)

// Fail is a failure of a kind, in the words of a fault.
func Fail(code answer.Code, f wording.Fault, hints ...answer.Hint) *answer.Failure {
	return answer.Fail(code, f.What, f.Help, hints...)
}

// Warning is a message in the words of a fault.
func Warning(f wording.Fault, hints ...answer.Hint) answer.Message {
	return answer.Warning(f.What, f.Help, hints...)
}

// Error is one that keeps something from being done.
func Error(f wording.Fault, hints ...answer.Hint) answer.Message {
	return answer.Error(f.What, f.Help, hints...)
}

// OneOf refuses a name that is not among those known.
func OneOf(name string, known []string, none func(name string, known []string) wording.Fault) error {
	if slices.Contains(known, name) {
		return nil
	}
	return Fail(answer.NotFound, none(name, known))
}

// WrongUse is a failure of the asker's.
func WrongUse(f wording.Fault, hints ...answer.Hint) *answer.Failure {
	return Fail(answer.WrongUse, f, hints...)
}

// Conflict is a failure of what does not go with how things stand now.
func Conflict(f wording.Fault, hints ...answer.Hint) *answer.Failure {
	return Fail(answer.Conflict, f, hints...)
}

// Messages are the messages of a failure.
func Messages(err error) []answer.Message { return answer.AsFailure(err).Messages }

// Under gives an error the fingerprint of the rules that it came up with. A failure
// keeps its words.
func Under(k *engine.Knowledge, err error) *answer.Failure {
	if f := (*answer.Failure)(nil); errors.As(err, &f) {
		return f.Under(k.Hash)
	}
	if errors.Is(err, network.ErrWide) {
		return Fail(answer.TooWide, wording.TooWide()).Because(err).Under(k.Hash)
	}
	return answer.AsFailure(err).Under(k.Hash)
}
