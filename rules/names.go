package rules

import (
	"fmt"
	"strings"

	"slipcase/engine/near"
)

// nameForm is what a name may look like.
type nameForm uint8

const (
	plainName   nameForm = iota // lower-case words with underscores
	idForm                      // the same, hyphens too
	gearForm                    // D, R, 3, L1
	codeForm                    // P0741
	findingForm                 // name[@place][:condition]
	patternName                 // plainName with a star for the thing
	anyText                     // not empty
)

func (f nameForm) String() string {
	switch f {
	case plainName:
		return "lowercase letters, digits and underscores, a letter first"
	case idForm:
		return "lowercase letters, digits, underscores and hyphens, a letter first"
	case gearForm:
		return "letters and digits, as on the selector: D, R, 3"
	case codeForm:
		return "a capital letter and four digits, as a scan tool shows it: P0741"
	case patternName:
		return "lowercase letters, digits and underscores, with a star for the thing's own name: *_piston"
	case findingForm:
		return "a finding, with its place after @ and its condition after a colon where it has them: slips@D/3:hot"
	}
	return "some text"
}

// longestName is the length of a name or label, in bytes.
const longestName = 120

// wants says what a name that does not fit lacks.
func (f nameForm) wants(s string) string {
	switch {
	case s == "":
		return "It is empty."
	case len(s) > longestName:
		return fmt.Sprintf("It has %d bytes; %d is the most.", len(s), longestName)
	}
	return fmt.Sprintf("It takes %s.", f)
}

// fits tells whether a name looks as it should.
func (f nameForm) fits(s string) bool {
	if s == "" || len(s) > longestName {
		return false
	}
	for i := 0; i < len(s); i++ {
		c := s[i]
		lower := c >= 'a' && c <= 'z'
		upper := c >= 'A' && c <= 'Z'
		digit := c >= '0' && c <= '9'
		ok := true
		switch f {
		case plainName:
			ok = lower || i > 0 && (digit || c == '_')
		case idForm:
			ok = lower || i > 0 && (digit || c == '_' || c == '-')
		case gearForm:
			ok = lower || upper || digit
		case codeForm:
			ok = digit || upper
		case patternName:
			ok = lower || c == '*' || i > 0 && (digit || c == '_')
		case findingForm:
			ok = lower || upper || digit || strings.IndexByte("_@/:*-", c) >= 0
		}
		if !ok {
			return false
		}
	}
	return f != gearForm || len(s) <= 4
}

// nearest gives the known name that a wrong one was most likely meant to be,
// or "".
func nearest(wrong string, known []string) string {
	for _, k := range near.Names(wrong, known, 2) {
		if k != wrong {
			return k
		}
	}
	return ""
}

// didYouMean is the sentence that offers a near name, or lists what there is
// when that is little, or nothing.
func didYouMean(wrong string, known []string) string {
	if n := nearest(wrong, known); n != "" {
		return fmt.Sprintf("Did you mean %q?", n)
	}
	if len(known) > 0 && len(known) <= 12 {
		return "It may be " + orList(known) + "."
	}
	return ""
}

// orList is "a", "a or b", "a, b or c".
func orList(list []string) string {
	switch len(list) {
	case 0:
		return ""
	case 1:
		return list[0]
	}
	return strings.Join(list[:len(list)-1], ", ") + " or " + list[len(list)-1]
}
