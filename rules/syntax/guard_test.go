package syntax

import (
	"fmt"
	"strings"
	"testing"
)

// TestHidden refuses characters that make a line look different from what it
// says, as they are and as escapes, at their own place.
func TestHidden(t *testing.T) {
	for _, r := range []rune{0x01, 0x1b, 0x7f, 0x85, 0x9b, 0x061c, 0x200b, 0x200e, 0x200f, 0x2028, 0x202a, 0x202e, 0x2066, 0x2069, 0xfeff} {
		for _, form := range []string{string(r), fmt.Sprintf(`\u%04x`, r), fmt.Sprintf(`\U%08X`, r)} {
			_, p := Parse("x", "a = \"é"+form+"\"\n")
			if len(p.List) != 1 {
				t.Errorf("%+q: %v", form, p.List)
				continue
			}
			if at := p.List[0].Subject; at.Line != 1 || at.Column != 7 || at.Byte != 7 {
				t.Errorf("%+q: at %d:%d, byte %d", form, at.Line, at.Column, at.Byte)
			}
		}
	}
	for _, s := range []string{"µ", "é", "熱", "\u2019", `\u00b5`, `\n`, `\t`, `\"\\`} {
		if _, p := Parse("x", "a = \""+s+"\"\n"); len(p.List) != 0 {
			t.Errorf("%+q: %v", s, p.List)
		}
	}
}

// TestNumbers reads numbers as written, up to the limits and no further.
func TestNumbers(t *testing.T) {
	nines := strings.Repeat("9", MaxDigits)
	for _, text := range []string{"0", "2.80", "-2.80", "1e30", "1e-30", "1E+30", "0.0000100", "007", nines} {
		f, p := Parse("x", "a = "+text+"\n")
		if len(p.List) != 0 || f.Body.Attrs[0].Value.Kind != Number || f.Body.Attrs[0].Value.Text != text {
			t.Errorf("%s: %v %v", text, f.Body.Attrs, p.List)
		}
	}
	for text, want := range map[string]string{
		"1e31": "exponent too large", "-1e-31": "exponent too large", "1e99999999999999999999": "exponent too large",
		nines + "9": "number too long", "1.2.3": "not a number", "1e2e3": "not a number",
		"--1": "minus without a number", "- 1": "minus without a number", "1-1": "operator -", "3mm": "number with a unit outside quotes",
	} {
		if _, p := Parse("x", "a = [0, "+text+"]\n"); len(p.List) != 1 || p.List[0].Summary != want {
			t.Errorf("%s: %v, want %s", text, p.List, want)
		}
	}
}

// TestBlanked: an argument that could not be read is in the tree all the same,
// in its block, so that it does not count as missing.
func TestBlanked(t *testing.T) {
	for _, bad := range []string{"f(1)", "\"${x}\"", "[1, 2", "1 2", "\"\\q\"", "<<X\nX", "{ x = 1 }", "x.y.z", "-y", "[1 2]"} {
		f, p := Parse("x", "a {\n  b \"c\" {\n    d = "+bad+"\n  }\n}\n")
		if len(p.List) != 1 {
			t.Errorf("%s: %v", bad, p.List)
		}
		if len(f.Body.Blocks) != 1 || len(f.Body.Blocks[0].Body.Blocks) != 1 {
			t.Errorf("%s: blocks lost", bad)
			continue
		}
		attrs := f.Body.Blocks[0].Body.Blocks[0].Body.Attrs
		if len(attrs) != 1 || attrs[0].Name != "d" || attrs[0].NameAt.Start.Line != 3 || attrs[0].Value.Kind == Number {
			t.Errorf("%s: %+v", bad, attrs)
		}
	}
}
