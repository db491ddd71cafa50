package syntax

import "testing"

// What is quoted is read back as it was, but for what the language refuses.
func TestQuote(t *testing.T) {
	for text, want := range map[string]string{
		"plain": "plain", `3" hose \ "new"`: `3" hose \ "new"`, "0.25 mm – Ø 3 mm": "0.25 mm – Ø 3 mm",
		"a ${b} %{c}": "a $ {b} % {c}", "a\x1b[31m\nb\u202e": "a [31m b ", "": "",
	} {
		f, bad := Parse("x", "a = "+Quote(text)+"\n")
		if len(bad.List) > 0 {
			t.Errorf("%q: %v", text, bad.List)
			continue
		}
		if got := f.Body.Attrs[0].Value.Text; got != want {
			t.Errorf("%q is read back as %q", text, got)
		}
	}
}
