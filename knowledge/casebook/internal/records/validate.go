package records

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"unicode/utf8"

	"slipcase/engine"
	"slipcase/engine/quantity"
)

// MaxText bounds one piece of text, MaxBody the JSON of one entry, in bytes.
const (
	MaxText = 64 << 10
	MaxBody = 256 << 10
)

// validID is the form of case ids: two digits of a year, a number of at least
// four digits without needless zeros.
var validID = regexp.MustCompile(`^\d\d-(0*[1-9]\d*)$`)

// MostDigits bounds the running number of a case: a stranger's export with a
// huge one would leave no number for the cases to come.
const MostDigits = 9

// CaseNumber reads the running number out of an id; ok is false for a text
// that is not an id.
func CaseNumber(id string) (number int64, ok bool) {
	m := validID.FindStringSubmatch(id)
	if m == nil || len(m[1]) > MostDigits {
		return 0, false
	}
	for _, d := range m[1] {
		number = 10*number + int64(d-'0')
	}
	return number, fmt.Sprintf("%04d", number) == m[1]
}

// checkText refuses text that would not come back as it was.
func checkText(field, s string) error {
	switch {
	case !utf8.ValidString(s):
		return &FieldError{field, "the text is not valid UTF-8"}
	case strings.ContainsRune(s, 0):
		return &FieldError{field, "the text holds a NUL character"}
	case len(s) > MaxText:
		return &FieldError{field, fmt.Sprintf("the text has %d bytes, the most is %d", len(s), MaxText)}
	}
	return nil
}

func checkTexts(pairs ...string) error {
	for i := 0; i < len(pairs); i += 2 {
		if err := checkText(pairs[i], pairs[i+1]); err != nil {
			return err
		}
	}
	return nil
}

// required refuses an empty name.
func required(field, s string) error {
	if strings.TrimSpace(s) == "" {
		return &FieldError{field, "it must not be empty"}
	}
	return nil
}

// first is the first error there is.
func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// CheckOpening refuses an opening that cannot be kept.
func CheckOpening(o engine.Opening) error {
	_, err := TimeText(o.At)
	return first(required("unit", o.Unit),
		checkTexts("unit", o.Unit, "title", o.Title, "vehicle", o.Vehicle, "words", o.Words, "rules", o.RulesHash, "by", o.By, "key", o.Key), err)
}

// CheckEntry refuses an entry that cannot be kept or that means nothing. It
// does not know names of findings or components: rules change, cases stay.
func CheckEntry(e engine.Entry) error {
	_, err := TimeText(e.At)
	if err := first(checkTexts("by", e.By, "key", e.Key), err); err != nil {
		return err
	}
	switch b := e.Body.(type) {
	case engine.Report:
		err = first(required("finding", b.Finding),
			OneOf("state", b.State, engine.Present, engine.Absent, engine.Unknown),
			checkTexts("finding", b.Finding, "by", b.By, "note", b.Note))
	case engine.Reading:
		err = checkReading("", b)
	case engine.Seen:
		err = first(required("component", b.Component),
			checkTexts("component", b.Component, "mode", b.Mode, "cause", b.Cause, "note", b.Note, "photo", b.Photo))
		if err == nil && b.Cleared == (b.Mode != "") {
			err = &FieldError{"mode", "a component has failed with a mode, or it is cleared and has none"}
		}
	case engine.SettledCause:
		err = first(required("cause", b.Cause), checkText("cause", b.Cause))
	case engine.StepDone:
		err = first(required("step", b.Step), checkTexts("step", b.Step, "note", b.Note))
		for i, r := range b.Readings {
			err = first(err, checkReading(fmt.Sprintf("readings[%d].", i), r))
		}
	case engine.Note:
		err = first(required("text", b.Text), checkText("text", b.Text))
	case engine.InterviewMark:
		err = checkTexts("question", b.Question, "answer", b.Answer)
		if err == nil && b.Skipped {
			err = required("question", b.Question)
		}
	case engine.Retraction:
		err = checkText("reason", b.Reason)
	case engine.Closing:
		err = checkClosing(b)
	case engine.Reopening:
		err = checkText("reason", b.Reason)
	case engine.ComeBack:
		err = first(required("earlier", b.Earlier), checkTexts("earlier", b.Earlier, "note", b.Note))
	case nil:
		err = &FieldError{"", "it says nothing"}
	default:
		err = &FieldError{"", fmt.Sprintf("a body of type %T is no entry", b)}
	}
	return inBody(err)
}

func checkReading(path string, r engine.Reading) error {
	q := r.Value
	err := first(required(path+"name", r.Name), required(path+"value.text", q.Text),
		OneOf(path+"value.dim", q.Dim, quantity.Dimensions()...),
		checkTexts(path+"name", r.Name, path+"place", r.Place, path+"value.unit", q.Unit, path+"value.text", q.Text, path+"by", r.By))
	if err == nil && (math.IsNaN(q.Base) || math.IsInf(q.Base, 0)) {
		err = &FieldError{path + "value.base", "it is not a finite number"}
	}
	return err
}

func checkClosing(c engine.Closing) error {
	err := first(OneOf("outcome", c.Outcome, engine.CaseFixed, engine.CaseComeBack, engine.CaseAbandoned),
		checkTexts("earlier", c.Earlier, "note", c.Note))
	for i, d := range c.Drive {
		path := fmt.Sprintf("drive[%d].", i)
		err = first(err, required(path+"place", d.Place), checkTexts(path+"place", d.Place, path+"note", d.Note))
	}
	if err == nil && (c.Outcome == engine.CaseComeBack) != (c.Earlier != "") {
		err = &FieldError{"earlier", "a comeback names the earlier case, other outcomes do not"}
	}
	return err
}

// OneOf refuses a word that is none of those allowed.
func OneOf[T ~string](field string, got T, allowed ...T) error {
	var names []string
	for _, a := range allowed {
		if got == a {
			return nil
		}
		names = append(names, string(a))
	}
	return &FieldError{field, fmt.Sprintf("%q is none of %s", string(got), strings.Join(names, ", "))}
}

// inBody places an error about a body under "body".
func inBody(err error) error {
	if f, ok := err.(*FieldError); ok {
		if f.Field == "" {
			return &FieldError{"body", f.What}
		}
		return &FieldError{"body." + f.Field, f.What}
	}
	return err
}
