package records

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/apparentlymart/go-textseg/v15/textseg"

	"slipcase/engine"
)

// maxDepth bounds how deep a line may be nested; an entry needs four.
const maxDepth = 8

// placed is something wrong at a byte of a line.
type placed struct {
	offset int
	what   string
}

func (p *placed) Error() string { return p.what }

// values finds the byte offset of every value of a line of JSON by its path
// ("body.drive[0].place"; "" for the whole), and of the names of fields. It refuses what decoding would let
// pass or settle silently: names twice, names not in small letters, null,
// something after the value.
func values(line []byte) (map[string]int, error) {
	if !utf8.Valid(line) {
		good := 0
		for good < len(line) {
			r, n := utf8.DecodeRune(line[good:])
			if r == utf8.RuneError && n == 1 {
				break
			}
			good += n
		}
		return nil, &placed{good, "the text is not valid UTF-8"}
	}
	var all json.RawMessage
	if err := json.Unmarshal(line, &all); err != nil {
		return nil, syntaxError(line, err)
	}
	w := &walk{d: json.NewDecoder(bytes.NewReader(line)), line: line, found: map[string]int{}}
	w.d.UseNumber()
	return w.found, w.value("", 0)
}

// nameOf is the key under which values keeps the place of a field's name.
func nameOf(path string) string { return path + ":" }

type walk struct {
	d     *json.Decoder
	line  []byte
	found map[string]int
}

// next reads a token and gives the byte at which it starts.
func (w *walk) next() (json.Token, int, error) {
	start := int(w.d.InputOffset())
	for start < len(w.line) && strings.IndexByte(" \t\r\n:,", w.line[start]) >= 0 {
		start++
	}
	t, err := w.d.Token()
	if err != nil {
		return nil, start, syntaxError(w.line, err)
	}
	if s, ok := t.(string); ok && strings.ContainsRune(s, utf8.RuneError) {
		// The decoder puts U+FFFD for half a character; was it written so?
		raw := strings.ToLower(string(w.line[start:w.d.InputOffset()]))
		if strings.Count(s, "\ufffd") != strings.Count(raw, "\ufffd")+strings.Count(raw, `\ufffd`) {
			return nil, start, &placed{start, "the text holds half a character (a lone surrogate)"}
		}
	}
	return t, start, nil
}

func (w *walk) value(path string, depth int) error {
	t, start, err := w.next()
	if err != nil {
		return err
	}
	w.found[path] = start
	switch {
	case t == nil:
		return &placed{start, "null is not allowed here: leave the field out"}
	case depth == maxDepth:
		return &placed{start, "the line is nested too deep"}
	}
	switch t {
	case json.Delim('{'):
		for w.d.More() {
			key, at, err := w.next()
			if err != nil {
				return err
			}
			name := key.(string)
			if name == "" || strings.Trim(name, "abcdefghijklmnopqrstuvwxyz_") != "" {
				return &placed{at, fmt.Sprintf("%q is not a field: names are lowercase", name)}
			}
			below := strings.TrimPrefix(path+"."+name, ".")
			if _, twice := w.found[below]; twice {
				return &placed{at, fmt.Sprintf("the field %q appears twice", name)}
			}
			w.found[nameOf(below)] = at
			if err := w.value(below, depth+1); err != nil {
				return err
			}
		}
		_, _, err = w.next()
	case json.Delim('['):
		for i := 0; w.d.More(); i++ {
			if err := w.value(fmt.Sprintf("%s[%d]", path, i), depth+1); err != nil {
				return err
			}
		}
		_, _, err = w.next()
	}
	return err
}

// syntaxError places what the decoder found wrong.
func syntaxError(line []byte, err error) error {
	var s *json.SyntaxError
	switch {
	case errors.As(err, &s):
		offset := max(int(s.Offset)-1, 0)
		what := s.Error()
		if strings.Contains(what, "unexpected end") {
			offset, what = len(line), "the line ends too soon"
		}
		return &placed{offset, "not JSON: " + what}
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return &placed{len(line), "the line ends too soon"}
	}
	return &placed{0, "not JSON: " + err.Error()}
}

// fieldFault places an error of decoding or checking. Where says where the
// values of the line lie, under is the path of what was decoded.
func fieldFault(err error, under string, where map[string]int) *placed {
	var p *placed
	var f *FieldError
	var t *json.UnmarshalTypeError
	join := func(field string) string {
		return strings.TrimPrefix(strings.TrimSuffix(under+"."+field, "."), ".")
	}
	switch {
	case errors.As(err, &p):
		return p
	case errors.As(err, &f):
		return &placed{nearest(join(f.Field), where), f.Error()}
	case errors.As(err, &t):
		return &placed{nearest(join(t.Field), where), fmt.Sprintf("%s must be %s, not %s", orValue(join(t.Field)), jsonKind(t), t.Value)}
	}
	what := strings.TrimPrefix(err.Error(), "json: ")
	if name, ok := strings.CutPrefix(what, "unknown field "); ok {
		name = strings.Trim(name, `"`)
		return &placed{unknownField(name, under, where), fmt.Sprintf("there is no field %q here", name)}
	}
	return &placed{nearest(under, where), what}
}

func orValue(path string) string {
	if path == "" {
		return "the line"
	}
	return path
}

// jsonKind names a Go type as JSON has it.
func jsonKind(t *json.UnmarshalTypeError) string {
	switch t.Type.Kind().String() {
	case "string":
		return "a string"
	case "bool":
		return "true or false"
	case "slice":
		return "a list"
	case "struct":
		return "an object"
	case "float64":
		return "a number that fits"
	}
	return "a whole number that fits"
}

// nearest is where a path lies; a field that is missing is placed where the
// value that should hold it begins.
func nearest(path string, where map[string]int) int {
	for {
		if at, ok := where[path]; ok {
			return at
		}
		i := strings.LastIndexAny(path, ".[")
		if i < 0 {
			return where[""]
		}
		path = path[:i]
	}
}

// unknownField is the first place under a path where a field with this name
// stands.
func unknownField(name, under string, where map[string]int) int {
	best := -1
	for path, at := range where {
		if (path == nameOf(name) || strings.HasSuffix(path, nameOf("."+name))) && strings.HasPrefix(path, under) && (best < 0 || at < best) {
			best = at
		}
	}
	return max(best, 0)
}

// rangeAt is the place of a byte of a line. Columns count visible characters.
func rangeAt(file string, number int, line []byte, offset int) engine.Range {
	column := 1
	if n, err := textseg.TokenCount(line[:min(offset, len(line))], textseg.ScanGraphemeClusters); err == nil {
		column += n
	}
	return engine.Range{File: file, Line: number, Column: column, EndLine: number, EndColumn: column + 1}
}
