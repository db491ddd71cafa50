package rules

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"slipcase/engine"
)

// More units than are read at once, and more causes than a network is made of, are
// refused by number: 3,000 unit files took 3 GB and over a minute, 4,000 causes as
// much in the examples of check.
func TestTooManyAreRefused(t *testing.T) {
	t.Parallel()
	many := fstest.MapFS{}
	for i := range MostUnits + 1 {
		many[fmt.Sprintf("units/u-%d.hcl", i)] = &fstest.MapFile{Data: []byte("language = 1\n")}
	}
	var b strings.Builder
	b.WriteString("language = 1\nbasis \"invented\" {\n  note = \"test\"\n}\n")
	for i := range mostBlocks["cause"] + 5 {
		fmt.Fprintf(&b, "cause \"c%d\" {\n  title = \"c\"\n  frequency = 0.1\n  advice = \"none\"\n}\n", i)
	}
	causes := fstest.MapFS{"rules/c.hcl": {Data: []byte(b.String())}}
	for _, x := range []struct {
		fs    fstest.MapFS
		says  string
		line  int
		loads int // causes
	}{
		{many, "301 units in all: at most 300 are read at once", 1, 0},
		{causes, "more than 300 blocks cause", 5 + 5*300, 300},
	} {
		k, diags := Load(Options{Layers: []Layer{{Name: "shop", FS: x.fs}}})
		found := 0
		for _, d := range diags {
			if d.Severity == engine.Error && d.Summary == x.says && d.Subject.Line == x.line {
				found++
			}
		}
		if found != 1 || len(k.Units) > 0 || len(k.Causes) != x.loads {
			t.Errorf("%q: told %d times; %d units and %d causes are read: %v", x.says, found, len(k.Units), len(k.Causes), diags)
		}
	}
}
