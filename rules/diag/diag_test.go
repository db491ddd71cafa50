package diag

import (
	"fmt"
	"slices"
	"testing"

	"slipcase/engine"
)

func at(file string, from, to int) engine.Range {
	return engine.Range{File: file, Line: 1, Byte: from, EndByte: to}
}

// One list whatever the order in which things were found: by file and place,
// errors before warnings at one place, each once, and last what has no place.
func TestSort(t *testing.T) {
	want := []engine.Diagnostic{
		{Severity: engine.Warning, Summary: "z", Subject: at("a.hcl", 1, 2)},
		{Severity: engine.Warning, Summary: "y", Subject: at("a.hcl", 1, 3)},
		{Severity: engine.Error, Summary: "x", Subject: at("a.hcl", 5, 9)},
		{Severity: engine.Error, Summary: "y", Detail: "1", Subject: at("a.hcl", 5, 9)},
		{Severity: engine.Error, Summary: "y", Detail: "2", Subject: at("a.hcl", 5, 9)},
		{Severity: engine.Warning, Summary: "a", Subject: at("a.hcl", 5, 9)},
		{Severity: engine.Error, Summary: "a", Subject: at("b.hcl", 0, 1)},
		{Severity: engine.Error, Summary: "a"},
	}
	mixed := slices.Concat(want, want)
	slices.Reverse(mixed)
	if got := Sort(mixed); !slices.Equal(got, want) {
		t.Errorf("got %v\nwant %v", got, want)
	}
}

// Where not all can be told, errors are told before warnings, wherever they
// stand, and how many are left.
func TestErrorsBeforeWarnings(t *testing.T) {
	var c Collector
	for i := range Most {
		c.Warn(at("a.hcl", i, i), fmt.Sprint("warning ", i), "")
	}
	for i := range 3 {
		c.Error(at("b.hcl", i, i), fmt.Sprint("error ", i), "")
	}
	list := c.Done()
	if len(list) != Most+1 || list[Most].Summary != "and 3 more" || list[Most].Severity != engine.Error {
		t.Fatalf("%d told, the last is %v", len(list), list[len(list)-1])
	}
	for i := range 3 {
		if d := list[Most-3+i]; d.Summary != fmt.Sprint("error ", i) {
			t.Errorf("error %d: %v", i, d)
		}
	}
	if list[0].Summary != "warning 0" || list[Most-4].Summary != fmt.Sprint("warning ", Most-4) {
		t.Errorf("warnings from %v to %v", list[0], list[Most-4])
	}
}

// Beyond the bound a collector only counts, what others collected too.
func TestBound(t *testing.T) {
	a := Collector{Bound: 2}
	for i := range 4 {
		a.Error(at("a.hcl", i, i), "x", "")
	}
	var b Collector
	b.Error(at("b.hcl", 1, 1), "y", "")
	b.Take(a)
	if list := b.Done(); len(list) != 4 || list[3].Summary != "and 2 more" {
		t.Errorf("%v", list)
	}
	if !a.Full() || b.Full() {
		t.Error("full is told wrong")
	}
	var c Collector
	for range 10*Most + 5 {
		c.Warn(at("a.hcl", 1, 1), "the same", "")
	}
	if list := c.Done(); len(list) != 2 || list[1].Summary != "and 5 more" {
		t.Errorf("%v", list)
	}
}
