package library

import (
	"bytes"
	"context"
	"errors"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/knowledge/wholefile"
	"slipcase/rules"
	"slipcase/rules/syntax"
)

// MaxText is the longest text in bytes that Format takes.
const MaxText = syntax.MaxBytes

// Formatted is a file in the usual layout.
type Formatted struct {
	Name    string
	Text    []byte
	Changed bool
}

// Format lays a text out in the usual way; a text that cannot be read is a
// Failure of code Rules. Name stands in messages.
func (d *Library) Format(name string, src []byte) (Formatted, error) {
	d.load.Keep(name, src)
	out, err := rules.Format(name, src)
	var bad *rules.SyntaxError
	if errors.As(err, &bad) {
		return Formatted{}, &answer.Failure{Code: answer.Rules, Messages: answer.Messages(bad.Diagnostics), Err: err}
	}
	if err != nil {
		return Formatted{}, answer.AsFailure(err)
	}
	return Formatted{name, out, !bytes.Equal(src, out)}, nil
}

// FormatFile reads a file and lays it out; with write it replaces the file,
// whole or not at all. Fails with Unavailable or Rules.
func (d *Library) FormatFile(ctx context.Context, name string, write bool) (Formatted, error) {
	src, err := d.load.File(name)
	if err != nil {
		return Formatted{}, err
	}
	f, err := d.Format(name, src)
	if err != nil || !write || !f.Changed {
		return f, err
	}
	if err := wholefile.Bytes(name, wholefile.InPlace, f.Text); err != nil {
		return f, fault.Fail(answer.Unavailable, wording.FileNotWritten(name, err)).Because(err)
	}
	return f, nil
}
