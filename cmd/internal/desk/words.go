package desk

import (
	"errors"
	"slices"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/network"
)

// linkTitle is the title of an element or joint.
func linkTitle(u *engine.Unit, name string) string {
	for _, e := range u.Elements {
		if e.Name == name {
			return wording.Title(e.Title, name)
		}
	}
	for _, j := range u.Joints {
		if j.Name == name {
			return wording.Title(j.Title, name)
		}
	}
	return wording.Name(name)
}

// fail is a failure of a kind, in the words of a fault.
func fail(code answer.Code, f wording.Fault, hints ...answer.Hint) *answer.Failure {
	return answer.Fail(code, f.What, f.Help, hints...)
}

// warning and failing are messages in the words of a fault.
func warning(f wording.Fault, hints ...answer.Hint) answer.Message {
	return answer.Warning(f.What, f.Help, hints...)
}

func failing(f wording.Fault, hints ...answer.Hint) answer.Message {
	return answer.Error(f.What, f.Help, hints...)
}

// oneOf refuses a name that is not among those known.
func oneOf(name string, known []string, none func(name string, known []string) wording.Fault) error {
	if slices.Contains(known, name) {
		return nil
	}
	return fail(answer.NotFound, none(name, known))
}

// wrongUse is a failure of the asker's.
func wrongUse(f wording.Fault, hints ...answer.Hint) *answer.Failure {
	return fail(answer.WrongUse, f, hints...)
}

func conflict(f wording.Fault, hints ...answer.Hint) *answer.Failure {
	return fail(answer.Conflict, f, hints...)
}

// messages are the messages of a failure.
func messages(err error) []answer.Message { return answer.AsFailure(err).Messages }

// refused is a failure of several messages, all the asker's.
func (w *work) refused(list []answer.Message) *answer.Failure {
	return &answer.Failure{Code: answer.WrongUse, Rules: w.k.Hash, Messages: list}
}

// under gives an error the fingerprint of the rules that it came up with.
func under(k *engine.Knowledge, err error) *answer.Failure {
	if errors.Is(err, network.ErrWide) {
		return fail(answer.TooWide, wording.TooWide()).Because(err).Under(k.Hash)
	}
	return answer.AsFailure(err).Under(k.Hash)
}
