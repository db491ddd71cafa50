package desk

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
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

// unknown is the failure for a name that is not among those known: it tells
// the near ones, or else all of them.
func unknown(summary, name string, known []string, all string) *answer.Failure {
	detail := wording.Nearest(name, known)
	if detail == "" {
		detail = all + " " + strings.Join(known, ", ")
	}
	return answer.Fail(answer.NotFound, summary, detail)
}

// oneOf refuses a name that is not among those known.
func oneOf(what, name string, known []string) error {
	if slices.Contains(known, name) {
		return nil
	}
	return unknown(fmt.Sprintf("there is no %s %q", what, name), name, known, "they are")
}

// wrongUse is a failure of the asker's.
func wrongUse(summary, detail string, hints ...answer.Hint) *answer.Failure {
	return answer.Fail(answer.WrongUse, summary, detail, hints...)
}

func conflict(summary, detail string, hints ...answer.Hint) *answer.Failure {
	return answer.Fail(answer.Conflict, summary, detail, hints...)
}

// messages are the messages of a failure.
func messages(err error) []answer.Message { return answer.AsFailure(err).Messages }

// refused is a failure of several messages, all the asker's.
func (w *work) refused(list []answer.Message) *answer.Failure {
	return &answer.Failure{Code: answer.WrongUse, Rules: w.k.Hash, Messages: list}
}

// under gives an error the fingerprint of the rules that it came up with.
func under(k *engine.Knowledge, err error) *answer.Failure {
	return answer.AsFailure(err).Under(k.Hash)
}
