package records

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"reflect"
	"time"

	"slipcase/engine"
	"slipcase/engine/quantity"
)

// The bodies as JSON, in the database and in an export. Names are written in
// small letters and never change their meaning; a field that is empty is left
// out.
type (
	reportJSON struct {
		Finding string `json:"finding"`
		State   string `json:"state"`
		By      string `json:"by,omitempty"`
		Note    string `json:"note,omitempty"`
		At      string `json:"at,omitempty"`
	}
	readingJSON struct {
		Name  string       `json:"name"`
		Place string       `json:"place,omitempty"`
		Value quantityJSON `json:"value"`
		By    string       `json:"by,omitempty"`
		At    string       `json:"at,omitempty"`
	}
	quantityJSON struct {
		Base float64 `json:"base"`
		Dim  string  `json:"dim"`
		Unit string  `json:"unit"`
		Text string  `json:"text"`
	}
	seenJSON struct {
		Component string `json:"component"`
		Mode      string `json:"mode,omitempty"`
		Cause     string `json:"cause,omitempty"`
		Cleared   bool   `json:"cleared,omitempty"`
		Note      string `json:"note,omitempty"`
		Photo     string `json:"photo,omitempty"`
	}
	settledJSON struct {
		Cause   string `json:"cause"`
		Present bool   `json:"present"`
	}
	stepJSON struct {
		Step     string        `json:"step"`
		Readings []readingJSON `json:"readings,omitempty"`
		Note     string        `json:"note,omitempty"`
	}
	noteJSON struct {
		Text string `json:"text"`
	}
	interviewJSON struct {
		Question string `json:"question,omitempty"`
		Skipped  bool   `json:"skipped,omitempty"`
		Answer   string `json:"answer,omitempty"`
	}
	retractionJSON struct {
		Of     int64  `json:"of"`
		Reason string `json:"reason,omitempty"`
	}
	closeJSON struct {
		Outcome string      `json:"outcome"`
		Drive   []driveJSON `json:"drive,omitempty"`
		Earlier string      `json:"earlier,omitempty"`
		Note    string      `json:"note,omitempty"`
	}
	driveJSON struct {
		Place string `json:"place"`
		OK    bool   `json:"ok"`
		Note  string `json:"note,omitempty"`
	}
	reopenJSON struct {
		Reason string `json:"reason,omitempty"`
	}
	comeBackJSON struct {
		Earlier string `json:"earlier"`
		Note    string `json:"note,omitempty"`
	}
)

// EncodeBody writes a body as JSON, always the same bytes for the same body.
func EncodeBody(body engine.Body) ([]byte, error) {
	var v any
	switch x := body.(type) {
	case engine.Report:
		at, err := TimeText(x.At)
		if err != nil {
			return nil, err
		}
		v = reportJSON{x.Finding, string(x.State), x.By, x.Note, at}
	case engine.Reading:
		r, err := toReading(x)
		if err != nil {
			return nil, err
		}
		v = r
	case engine.Seen:
		v = seenJSON{x.Component, x.Mode, x.Cause, x.Cleared, x.Note, x.Photo}
	case engine.SettledCause:
		v = settledJSON{x.Cause, x.Present}
	case engine.StepDone:
		s := stepJSON{Step: x.Step, Note: x.Note}
		for _, r := range x.Readings {
			j, err := toReading(r)
			if err != nil {
				return nil, err
			}
			s.Readings = append(s.Readings, j)
		}
		v = s
	case engine.Note:
		v = noteJSON(x)
	case engine.InterviewMark:
		v = interviewJSON(x)
	case engine.Retraction:
		v = retractionJSON(x)
	case engine.Closing:
		c := closeJSON{Outcome: string(x.Outcome), Earlier: x.Earlier, Note: x.Note}
		for _, d := range x.Drive {
			c.Drive = append(c.Drive, driveJSON(d))
		}
		v = c
	case engine.Reopening:
		v = reopenJSON(x)
	case engine.ComeBack:
		v = comeBackJSON(x)
	default:
		return nil, fmt.Errorf("a body of type %T is no entry", body)
	}
	return EncodeLine(v)
}

// DecodeBody is the inverse of EncodeBody. Unknown fields are errors.
func DecodeBody(kind engine.EntryKind, text []byte) (engine.Body, error) {
	switch kind {
	case engine.EntryReport:
		return decodeAs(text, func(x reportJSON) (engine.Body, error) {
			at, err := ParseTime(x.At)
			return engine.Report{Finding: x.Finding, State: engine.State(x.State), By: x.By, Note: x.Note, At: at}, atField(err)
		})
	case engine.EntryReading:
		return decodeAs(text, func(x readingJSON) (engine.Body, error) { return fromReading(x) })
	case engine.EntrySeen:
		return decodeAs(text, func(x seenJSON) (engine.Body, error) {
			return engine.Seen{Component: x.Component, Mode: x.Mode, Cause: x.Cause, Cleared: x.Cleared, Note: x.Note, Photo: x.Photo}, nil
		})
	case engine.EntrySettled:
		return decodeAs(text, func(x settledJSON) (engine.Body, error) {
			return engine.SettledCause{Cause: x.Cause, Present: x.Present}, nil
		})
	case engine.EntryStep:
		return decodeAs(text, func(x stepJSON) (engine.Body, error) {
			s := engine.StepDone{Step: x.Step, Note: x.Note}
			for _, j := range x.Readings {
				r, err := fromReading(j)
				if err != nil {
					return nil, err
				}
				s.Readings = append(s.Readings, r)
			}
			return s, nil
		})
	case engine.EntryNote:
		return decodeAs(text, func(x noteJSON) (engine.Body, error) { return engine.Note(x), nil })
	case engine.EntryInterview:
		return decodeAs(text, func(x interviewJSON) (engine.Body, error) { return engine.InterviewMark(x), nil })
	case engine.EntryRetraction:
		return decodeAs(text, func(x retractionJSON) (engine.Body, error) { return engine.Retraction(x), nil })
	case engine.EntryClose:
		return decodeAs(text, func(x closeJSON) (engine.Body, error) {
			c := engine.Closing{Outcome: engine.CaseStatus(x.Outcome), Earlier: x.Earlier, Note: x.Note}
			for _, d := range x.Drive {
				c.Drive = append(c.Drive, engine.DriveResult(d))
			}
			return c, nil
		})
	case engine.EntryReopen:
		return decodeAs(text, func(x reopenJSON) (engine.Body, error) { return engine.Reopening(x), nil })
	case engine.EntryComeBack:
		return decodeAs(text, func(x comeBackJSON) (engine.Body, error) { return engine.ComeBack(x), nil })
	}
	return nil, &FieldError{"", fmt.Sprintf("there is no entry of kind %q", kind)}
}

func decodeAs[T any](text []byte, f func(T) (engine.Body, error)) (engine.Body, error) {
	var v T
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&v); err != nil {
		return nil, err
	}
	return f(v)
}

func toReading(r engine.Reading) (readingJSON, error) {
	at, err := TimeText(r.At)
	q := r.Value
	return readingJSON{r.Name, r.Place, quantityJSON{q.Base, string(q.Dim), q.Unit, q.Text}, r.By, at}, err
}

func fromReading(x readingJSON) (engine.Reading, error) {
	at, err := ParseTime(x.At)
	q := quantity.Quantity{Base: x.Value.Base, Dim: quantity.Dimension(x.Value.Dim), Unit: x.Value.Unit, Text: x.Value.Text}
	return engine.Reading{Name: x.Name, Place: x.Place, Value: q, By: x.By, At: at}, atField(err)
}

// EncodeLine writes JSON without a line end and without escapes for HTML.
func EncodeLine(v any) ([]byte, error) {
	var buf bytes.Buffer
	e := json.NewEncoder(&buf)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(buf.Bytes(), []byte("\n")), nil
}

// TimeText is RFC 3339 with all digits, "" for the zero time.
func TimeText(t time.Time) (string, error) {
	if t.IsZero() {
		return "", nil
	}
	if _, offset := t.Zone(); offset%60 != 0 {
		t = t.UTC() // RFC 3339 has no seconds in offsets
	}
	text, err := t.MarshalText()
	if err != nil {
		return "", &FieldError{"at", "a time that cannot be written: " + err.Error()}
	}
	return string(text), nil
}

// ParseTime is the inverse of TimeText.
func ParseTime(s string) (time.Time, error) {
	var t time.Time
	if s == "" {
		return t, nil
	}
	if err := t.UnmarshalText([]byte(s)); err != nil {
		return t, fmt.Errorf("%q is not a time such as 2026-03-02T08:15:00Z", s)
	}
	if t.IsZero() {
		return t, fmt.Errorf("the time %q stands for no time at all: leave it out", s)
	}
	return t, nil
}

// FieldError is something wrong with one field, by its path in the JSON.
type FieldError struct{ Field, What string }

// Error says the field and what is wrong with it.
func (e *FieldError) Error() string {
	if e.Field == "" {
		return e.What
	}
	return e.Field + ": " + e.What
}

func atField(err error) error {
	if err == nil {
		return nil
	}
	return &FieldError{"at", err.Error()}
}

// Checksum of fields, following the checksum before it; 8 bytes of SHA-256.
func Checksum(before []byte, fields ...string) []byte {
	h := sha256.New()
	h.Write(before)
	var n [8]byte
	for _, f := range fields {
		binary.BigEndian.PutUint64(n[:], uint64(len(f)))
		h.Write(n[:])
		h.Write([]byte(f))
	}
	return h.Sum(nil)[:8]
}

// SameBody compares what would be written.
func SameBody(a, b engine.Body) bool {
	if reflect.TypeOf(a) != reflect.TypeOf(b) {
		return false
	}
	x, errX := EncodeBody(a)
	y, errY := EncodeBody(b)
	return errX == nil && errY == nil && bytes.Equal(x, y)
}
