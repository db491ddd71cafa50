package rules

import (
	"bytes"
	"errors"
	"fmt"

	"github.com/hashicorp/hcl/v2/hclwrite"

	"slipcase/engine"
	"slipcase/rules/syntax"
)

// SyntaxError says that a text cannot be read, with what is wrong in it.
type SyntaxError struct{ Diagnostics []engine.Diagnostic }

func (e *SyntaxError) Error() string {
	s := e.Diagnostics[0].Error()
	if n := len(e.Diagnostics) - 1; n > 0 {
		s += fmt.Sprintf(" (and %d more)", n)
	}
	return s
}

// Format lays a file out in the usual way: indents, one space around equals
// signs, equals signs of neighboring lines below one another. Comments and
// values stay; formatting what is formatted changes nothing. A text that
// cannot be read is a *SyntaxError and is not touched. name stands in its
// messages.
func Format(name string, src []byte) ([]byte, error) {
	before, bad := syntax.Parse(name, string(src))
	if len(bad.List)+bad.More > 0 {
		p := problems{bad}
		return nil, &SyntaxError{p.Done()}
	}
	out := src
	for range 4 { // twice is nearly always enough: once to change, once to see that nothing changes
		next := hclwrite.Format(out)
		if string(next) == string(out) {
			break
		}
		out = next
	}
	if mark := []byte("\ufeff"); bytes.HasPrefix(src, mark) && !bytes.HasPrefix(out, mark) {
		out = append(mark, out...)
	}
	after, bad := syntax.Parse(name, string(out))
	if len(bad.List) > 0 || !syntax.Same(&before.Body, &after.Body) {
		return nil, errors.New(name + ": formatting would change the meaning of the file; it is left as it is")
	}
	return out, nil
}
