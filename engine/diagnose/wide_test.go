package diagnose_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"testing/fstest"

	"slipcase/engine"
	"slipcase/engine/advise"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/engine/network"
	"slipcase/knowledge"
	"slipcase/rules"
)

// counting is a context that counts how often it is asked whether it has ended:
// once a table of a tree, and once a report that is left out.
type counting struct {
	context.Context
	asked atomic.Int64
}

func (c *counting) Err() error { c.asked.Add(1); return nil }

// tangled is rules in which root causes bring about the same modes one by one,
// without a stress between. All numbers are invented.
func tangled(causes, modes int) string {
	var b strings.Builder
	b.WriteString("language = 1\nbasis \"invented\" {\n  note = \"test\"\n}\n")
	for i := range causes {
		fmt.Fprintf(&b, "cause \"tangled_%d\" {\n  title = \"cause %d\"\n  frequency = 0.02\n  advice = \"none\"\n}\n", i, i)
	}
	for j := range modes {
		fmt.Fprintf(&b, "mode \"tangled_mode_%d\" {\n  of = [\"friction_pack\"]\n  title = \"mode %d\"\n  frequency = 0.01\n  effect \"slips\" {\n    strength = probable\n  }\n", j, j)
		for i := range causes {
			fmt.Fprintf(&b, "  because \"tangled_%d\" {\n    strength = 0.3\n  }\n", i)
		}
		b.WriteString("}\n")
	}
	return b.String()
}

// Rules that tie too many causes together are told of without work: no tree is
// run through to name reports that do not clash. (Six seconds went into one of
// a hundred million entries.)
func TestTooWideIsToldSoon(t *testing.T) {
	t.Parallel()
	shop := fstest.MapFS{"rules/tangled.hcl": {Data: []byte(tangled(20, 20))}}
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "embedded", FS: knowledge.FS}, {Name: "shop", FS: shop}}, Unit: "northfork-4"})
	for _, d := range diags {
		if d.Severity == engine.Error {
			t.Fatal(d)
		}
	}
	plain, err := model.Build(k, k.Unit("northfork-4"))
	if err != nil {
		t.Fatal(err)
	}
	ctx := &counting{Context: t.Context()}
	m := plain.WithContext(ctx)
	c := demo(t, "slip-one-gear")
	if _, _, err := diagnose.Case(m, c, diagnose.Options{}); !errors.Is(err, network.ErrWide) {
		t.Errorf("suspects: %v, want that it is too wide", err)
	}
	if _, err := advise.Price(m, c, advise.Options{Best: 3}); !errors.Is(err, network.ErrWide) {
		t.Errorf("next: %v, want that it is too wide", err)
	}
	if n := ctx.asked.Load(); n > 400 {
		t.Errorf("%d tables and tries of an order for an answer that is too wide", n)
	} else {
		t.Log(n)
	}
}

// Reports that are so unlikely together that an exact answer would need more digits
// than its budget allows, beside a smaller tree that does not hold what cannot be left
// out, are answered all the same.
func TestUnlikelyTogether(t *testing.T) {
	t.Parallel()
	list, err := os.ReadFile("testdata/unlikely.txt")
	if err != nil {
		t.Fatal(err)
	}
	c := &engine.CaseFile{Unit: "northfork-4"}
	for line := range strings.Lines(string(list)) {
		if x := strings.Fields(line); x[0] != "#" {
			c.Reports = append(c.Reports, engine.Report{Finding: x[0], State: engine.State(x[1]), By: x[2]})
		}
	}
	r, problems, err := diagnose.Case(modelOf(t, c.Unit), c, diagnose.Options{})
	if err != nil || model.Refused(problems) {
		t.Fatalf("%v %v", err, problems)
	}
	if !slices.ContainsFunc(r.Suspects[:2], func(s diagnose.Suspect) bool { return s.Component.Name == "overdrive_band" }) {
		t.Errorf("the first two are %v and %v; the band was burnt", r.Suspects[0].Component.Name, r.Suspects[1].Component.Name)
	}
}
