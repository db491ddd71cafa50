package answer

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"unicode"
	"unicode/utf8"
)

// Envelope is what a face prints as JSON, on success and on failure. Its
// fields and those of Data stay as they are within one Schema; new fields may
// be added.
//
//	schema       "slipcase/COMMAND/N"
//	program      version of the program
//	rules        fingerprint of every rule byte that was loaded, hex; "" when none were
//	method       how the answer was reached, in words; "" when nothing was worked out
//	input        the case and the options that data can be worked out from again; null when nothing was
//	data         the answer; null on failure
//	diagnostics  what is wrong and where, errors and warnings; [] when nothing
//	error        null, or {"code": …}: one of Codes
//
// Numbers have 9 significant digits. The same input gives the same bytes.
type Envelope struct {
	Schema   string     `json:"schema"`
	Program  string     `json:"program"`
	Rules    string     `json:"rules"`
	Method   string     `json:"method"`
	Input    *Input     `json:"input"`
	Data     any        `json:"data"`
	Messages []Message  `json:"diagnostics"`
	Error    *ErrorCode `json:"error"`
}

// ErrorCode is the code of a failure in the envelope.
type ErrorCode struct {
	Code Code `json:"code"`
}

// Write prints the envelope, indented, with a line feed at the end.
func (e Envelope) Write(w io.Writer) error {
	if e.Messages == nil {
		e.Messages = []Message{}
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(e); err != nil {
		return err
	}
	_, err := w.Write(harmless(b.Bytes()))
	return err
}

// harmless escapes what a terminal or an editor would act on and JSON lets
// stand as it is: DEL, the second set of control characters, and characters
// that change the direction of writing. The text means the same.
func harmless(text []byte) []byte {
	out := make([]byte, 0, len(text))
	for _, r := range string(text) {
		if r == 0x7f || r > 0x7f && (unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r)) {
			out = fmt.Appendf(out, "\\u%04x", r)
			continue
		}
		out = utf8.AppendRune(out, r)
	}
	return out
}
