package syntax

import (
	"os"
	"regexp"
	"strings"
	"testing"
)

// page is the rule language's own page; its snippets are the corpus.
func snippets(t testing.TB) []string {
	b, err := os.ReadFile("../language.md")
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, m := range regexp.MustCompile("(?s)```hcl\n(.*?)```").FindAllStringSubmatch(string(b), -1) {
		out = append(out, m[1])
	}
	if len(out) < 5 {
		t.Fatalf("only %d snippets found", len(out))
	}
	return out
}

func BenchmarkParse(b *testing.B) {
	one := strings.Join(snippets(b), "")
	s := strings.Repeat(one, MaxBytes/len(one))
	b.SetBytes(int64(len(s)))
	b.ReportAllocs()
	for b.Loop() {
		_, p := Parse("x", s)
		if len(p.List) > 0 && p.List[0].Summary != `argument "language" given twice` {
			b.Fatal(p.List[0])
		}
	}
}
