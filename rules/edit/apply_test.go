package edit

import (
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"slipcase/engine"
	"slipcase/engine/refine/rulepath"
	"slipcase/internal/size"
	"slipcase/knowledge"
	"slipcase/rules"
)

// embedded are the rules with a few of the units: every change reads all of it
// again. The eight-speed has the gears and solenoids that codes speak of.
var embedded = []rules.Layer{{Name: "knowledge", FS: fewUnits{knowledge.FS}}}

// tiny are rules for tests that ask only about files: numbers invented.
var tiny = []rules.Layer{{Name: "tiny", FS: fstest.MapFS{"rules/all.hcl": {Data: []byte(`language = 1
basis "invented" {
  note = "numbers for tests"
}
kind "friction_pack" {
}
cause "high_mileage" {
  frequency = 0.25
}
mode "burnt_friction" {
  of        = [friction_pack]
  frequency = 0.024
}
`)}}}}

type fewUnits struct{ fs.FS }

func (f fewUnits) ReadDir(name string) ([]fs.DirEntry, error) {
	list, err := fs.ReadDir(f.FS, name)
	return slices.DeleteFunc(list, func(e fs.DirEntry) bool {
		if name == "rules" { // examples and variants name units that are not there
			return strings.HasPrefix(e.Name(), "examples") || e.Name() == "variants.hcl"
		}
		return name == "units" && !slices.Contains([]string{"northfork-4.hcl", "harrow-3.hcl", "four-gearset-8.hcl"}, e.Name())
	}), err
}

// folder makes a shop's folder.
func folder(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for p, s := range files {
		name := filepath.Join(dir, filepath.FromSlash(p))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(s), 0o640); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// contents reads a folder's rule files.
func contents(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(p string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() == Journal || d.Name() == lockFile {
			return err
		}
		b, err := os.ReadFile(p)
		rel, _ := filepath.Rel(dir, p)
		out[filepath.ToSlash(rel)] = string(b)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func number(t *testing.T, shop string, p rulepath.Path) engine.Number {
	t.Helper()
	k, err := load(shop, embedded)
	if err != nil {
		t.Fatal(err)
	}
	var out engine.Number
	rulepath.Walk(k, func(q rulepath.Path, n *engine.Number) {
		if q.String() == p.String() {
			out = *n
		}
	})
	return out
}

var (
	burnt   = at("frequency", bl("mode", "burnt_friction"))
	inPan   = at("strength", bl("mode", "burnt_friction"), bl("shows", "lining_in_pan"))
	mileage = at("frequency", bl("cause", "high_mileage"))
)

func TestApplyAndUndo(t *testing.T) {
	for _, p := range []rulepath.Path{burnt, inPan, mileage} {
		if number(t, t.TempDir(), p).Basis == nil {
			t.Fatalf("the embedded rules have no %s: choose another", p)
		}
	}
	start := map[string]string{
		"rules/mine.hcl":  "language = 1\r\nbasis \"invented\" {\r\n}\r\n# ours\r\nmode \"burnt_friction\" { frequency = 0.03 }\r\n",
		"rules/other.hcl": "language = 1\ncause \"high_mileage\" {\n  title = \"over 150,000\"\n}\n",
	}
	shop := folder(t, start)
	changes := []Change{
		{Path: burnt, Text: "0.041", Cases: 37, Note: "from cases"},
		{Path: inPan, Text: "0.77", Cases: 9},
		{Path: mileage, Text: "0.31", Cases: 80},
	}
	files, err := Apply(shop, embedded, changes)
	if err != nil {
		t.Fatal(err)
	}
	if len(files) != 2 {
		t.Errorf("%d files changed, want the two that have the blocks", len(files))
	}
	for i, p := range []rulepath.Path{burnt, inPan, mileage} {
		n := number(t, shop, p)
		if n.Text != changes[i].Text || n.Basis.Kind != engine.ShopRecord || int(n.Basis.Cases) != changes[i].Cases {
			t.Errorf("%s is %s, %+v", p, n.Text, n.Basis)
		}
	}
	if s := contents(t, shop)["rules/mine.hcl"]; !strings.Contains(s, "# ours\r\n") || strings.Count(s, "\n") != strings.Count(s, "\r\n") {
		t.Errorf("comment or line ends lost:\n%q", s)
	}
	info, err := os.Stat(filepath.Join(shop, "rules", "mine.hcl"))
	if err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("permissions %v, %v", info.Mode(), err)
	}
	k, _ := load(shop, embedded)
	origins, err := Origins(shop, k)
	if err != nil {
		t.Fatal(err)
	}
	if o := origins[burnt.String()]; o != (Origin{Value: 0.03, Kind: engine.Invented}) {
		t.Errorf("origin of the rate: %+v", o)
	}
	// Learning again keeps the first origin; a hand's change ends it.
	if _, err := Apply(shop, embedded, []Change{{Path: burnt, Text: "0.05", Cases: 60}}); err != nil {
		t.Fatal(err)
	}
	k, _ = load(shop, embedded)
	if origins, _ = Origins(shop, k); origins[burnt.String()].Value != 0.03 {
		t.Errorf("origin after a second apply: %+v", origins[burnt.String()])
	}
	undone, err := Undo(shop)
	if err != nil || len(undone) != 1 {
		t.Fatal(undone, err)
	}
	if n := number(t, shop, burnt); n.Text != "0.041" {
		t.Errorf("after undo %s", n.Text)
	}
	if _, err := Undo(shop); !errors.Is(err, ErrNothingToUndo) {
		t.Errorf("second undo: %v", err)
	}
}

func TestUndoIsExact(t *testing.T) {
	start := map[string]string{"rules/mine.hcl": "\ufefflanguage = 1\nbasis invented {}\nmode \"burnt_friction\" { frequency = 0.03 } # x"}
	shop := folder(t, start)
	if _, err := Apply(shop, embedded, []Change{{Path: burnt, Text: "0.041", Cases: 3}, {Path: mileage, Text: "0.3", Cases: 4}}); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(contents(t, shop)[Learned], "0.3") {
		t.Errorf("no new block in %s", Learned)
	}
	if _, err := Undo(shop); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(start, contents(t, shop)); d != "" {
		t.Error(d)
	}
	k, _ := load(shop, embedded)
	if o, err := Origins(shop, k); err != nil || len(o) != 0 {
		t.Errorf("origins after undo: %v %v", o, err)
	}
}

// An undo leaves no folder behind that the apply had to make, and none of the
// shop's own goes.
func TestUndoLeavesNoFolder(t *testing.T) {
	tree := func(dir string) (out []string) { // none where there is no folder
		filepath.WalkDir(dir, func(p string, _ fs.DirEntry, err error) error {
			if err == nil {
				rel, _ := filepath.Rel(dir, p)
				out = append(out, filepath.ToSlash(rel))
			}
			return nil
		})
		return out
	}
	for _, tc := range []struct {
		name       string
		make       []string // folders that are there before
		meanwhile  string   // a file that comes into them between apply and undo
		twice      bool     // another apply before, that stays
		want, gone []string
	}{
		{name: "no folder at all", gone: []string{"."}},
		{name: "an empty folder", make: []string{"."}, want: []string{"."}, gone: []string{"rules"}},
		{name: "an empty folder of rules", make: []string{"rules"}, want: []string{"rules"}},
		{name: "something of the shop's own beside it", meanwhile: "rules/notes.txt", want: []string{"rules/notes.txt"}, gone: []string{Learned}},
		{name: "something of the shop's own above it", meanwhile: "notes.txt", want: []string{"notes.txt"}, gone: []string{"rules"}},
		{name: "learned before", twice: true, want: []string{Learned, Journal}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			shop := filepath.Join(t.TempDir(), "shop")
			for _, dir := range tc.make {
				if err := os.MkdirAll(filepath.Join(shop, dir), 0o755); err != nil {
					t.Fatal(err)
				}
			}
			apply := func(c Change) {
				if _, err := Apply(shop, tiny, []Change{c}); err != nil {
					t.Fatal(err)
				}
			}
			if tc.twice {
				apply(Change{Path: mileage, Text: "0.3", Cases: 4})
			}
			apply(Change{Path: burnt, Text: "0.041", Cases: 3})
			if tc.meanwhile != "" {
				if err := os.WriteFile(filepath.Join(shop, filepath.FromSlash(tc.meanwhile)), nil, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if _, err := Undo(shop); err != nil {
				t.Fatal(err)
			}
			left := tree(shop)
			for _, p := range tc.want {
				if !slices.Contains(left, p) {
					t.Errorf("%s is gone: %v", p, left)
				}
			}
			for _, p := range tc.gone {
				if slices.Contains(left, p) {
					t.Errorf("%s stays: %v", p, left)
				}
			}
			if _, err := Undo(shop); !errors.Is(err, ErrNothingToUndo) {
				t.Errorf("a second undo: %v", err)
			}
		})
	}
}

func TestUndoRefusesWhatChanged(t *testing.T) {
	shop := folder(t, nil)
	if _, err := Apply(shop, embedded, []Change{{Path: burnt, Text: "0.041", Cases: 3}}); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(shop, filepath.FromSlash(Learned))
	b, _ := os.ReadFile(name)
	if err := os.WriteFile(name, append(b, "# mine\n"...), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Undo(shop); err == nil || !strings.Contains(err.Error(), "has changed since") {
		t.Errorf("undo: %v", err)
	}
	if now, _ := os.ReadFile(name); !strings.HasSuffix(string(now), "# mine\n") {
		t.Error("undo wrote to a file that it refused")
	}
}

// An apply that was cut off between two files is taken back whole.
func TestUndoOfHalfAnApply(t *testing.T) {
	start := map[string]string{
		"rules/a.hcl": "language = 1\nbasis invented {}\nmode \"burnt_friction\" { frequency = 0.03 }\n",
		"rules/b.hcl": "language = 1\nbasis invented {}\ncause \"high_mileage\" { frequency = 0.2 }\n",
	}
	shop := folder(t, start)
	if _, err := Apply(shop, embedded, []Change{{Path: burnt, Text: "0.041", Cases: 3}, {Path: mileage, Text: "0.3", Cases: 4}}); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(shop, "rules", "b.hcl"), []byte(start["rules/b.hcl"]), 0o640); err != nil {
		t.Fatal(err)
	}
	if _, err := Undo(shop); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(start, contents(t, shop)); d != "" {
		t.Error(d)
	}
}

func TestApplyRefuses(t *testing.T) {
	for _, c := range []struct {
		name    string
		files   map[string]string
		changes []Change
		want    string
	}{
		{"unknown number", nil, []Change{{Path: at("frequency", bl("mode", "no_such")), Text: "0.1", Cases: 1}}, "would have an error"},
		{"twice", nil, []Change{{Path: burnt, Text: "0.1", Cases: 1}, {Path: burnt, Text: "0.2", Cases: 1}}, "two changes"},
		{"broken rules", map[string]string{"rules/x.hcl": "language = 1\nmode {\n}\n"}, []Change{{Path: burnt, Text: "0.1", Cases: 1}}, "error already"},
		{"nothing", nil, nil, "no change"},
	} {
		t.Run(c.name, func(t *testing.T) {
			shop := folder(t, c.files)
			before := contents(t, shop)
			_, err := Apply(shop, embedded, c.changes)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want %q", err, c.want)
			}
			if d := cmp.Diff(before, contents(t, shop)); d != "" {
				t.Error(d)
			}
		})
	}
}

// A rate of a unit's component goes into the unit's own file.
func TestApplyToUnit(t *testing.T) {
	k, err := load(t.TempDir(), embedded)
	if err != nil {
		t.Fatal(err)
	}
	var p rulepath.Path
	rulepath.Walk(k, func(q rulepath.Path, n *engine.Number) {
		if q.Unit() != "" && p.Argument == "" {
			p = q
		}
	})
	if p.Argument == "" {
		t.Fatal("no unit of the embedded knowledge overrides a rate")
	}
	shop := folder(t, nil)
	files, err := Apply(shop, embedded, []Change{{Path: p, Text: "0.123", Cases: 5}})
	if err != nil {
		t.Fatal(err)
	}
	if len(files) != 1 || files[0].Path != "units/"+p.Unit()+".hcl" {
		t.Errorf("files %v", files)
	}
	if n := number(t, shop, p); n.Value != 0.123 {
		t.Errorf("%s is %v", p, n.Value)
	}
}

// The rate of one part, of which the rules have none of its own: it is written to
// the shop's file of the unit, names that part, changes no other number, and what
// stood for it before is remembered, also where the shop has the part already.
func TestApplyToOnePart(t *testing.T) {
	p := rulepath.OfComponent("harrow-3", "rear_clutch_rings", "cut_ring")
	for name, files := range map[string]map[string]string{
		"empty":   nil,
		"its own": {"units/harrow-3.hcl": "language = 1\nbasis \"invented\" {\n}\nunit \"harrow-3\" {\n  component \"rear_clutch_rings\" { title = \"rings of the rear clutch\" }\n}\n"},
	} {
		t.Run(name, func(t *testing.T) {
			shop := folder(t, files)
			before := contents(t, shop)
			was := Origin{Value: 0.018, Kind: engine.Invented}
			if _, err := Apply(shop, embedded, []Change{{Path: p, Text: "0.09", Cases: 40, Was: was}}); err != nil {
				t.Fatal(err)
			}
			if n := number(t, shop, p); n.Value != 0.09 || n.Basis.Kind != engine.ShopRecord || n.Basis.Cases != 40 {
				t.Errorf("%s is %+v", p, n)
			}
			if text := contents(t, shop)["units/harrow-3.hcl"]; !strings.Contains(text, "component \"rear_clutch_rings\"") {
				t.Errorf("the part is not named:\n%s", text)
			}
			k, err := load(shop, embedded)
			if err != nil {
				t.Fatal(err)
			}
			if kept, err := Origins(shop, k); err != nil || kept[p.String()] != was {
				t.Errorf("before it was %+v, %v", kept[p.String()], err)
			}
			if _, err := Undo(shop); err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(before, contents(t, shop)); d != "" {
				t.Errorf("after undo:\n%s", d)
			}
		})
	}
}

// How often a reporter errs: written beside what the shop says of the same
// reporter, both numbers with a basis of their own, and what the rules say of
// single findings goes with it.
func TestApplyToReporter(t *testing.T) {
	shop := folder(t, map[string]string{"rules/own.hcl": "language = 1\nbasis \"invented\" {\n}\nreporter \"driver\" {\n  false_alarm = 0.04 # ours talk\n}\n"})
	before := contents(t, shop)
	alarms, misses := rulepath.OfReporter("driver", rulepath.FalseAlarm), rulepath.OfReporter("driver", rulepath.Miss)
	if _, err := Apply(shop, embedded, []Change{{Path: alarms, Text: "0.08", Cases: 90}, {Path: misses, Text: "0.3", Cases: 30}}); err != nil {
		t.Fatal(err)
	}
	for p, want := range map[*rulepath.Path][2]float64{&alarms: {0.08, 90}, &misses: {0.3, 30}} {
		if n := number(t, shop, *p); n.Value != want[0] || n.Basis.Cases != want[1] {
			t.Errorf("%s is %+v", p, n)
		}
	}
	k, err := load(shop, embedded)
	if err != nil {
		t.Fatal(err)
	}
	for i := range k.Reporters {
		r := &k.Reporters[i]
		if r.Name != "driver" {
			continue
		}
		for j := range r.On {
			o := &r.On[j]
			if a, m := r.Errs(o); math.Abs(a-2*o.FalseAlarm.Value) > 1e-12 || math.Abs(m-min(0.99, 2*(1-o.Hit.Value))) > 1e-12 {
				t.Errorf("%s: false alarms %v of %v, misses %v of %v", o.Finding, a, o.FalseAlarm.Value, m, 1-o.Hit.Value)
			}
		}
		if r.FalseAlarm.Value != 0.04 || len(r.On) < 10 {
			t.Errorf("the rules' own numbers changed: %+v", r.FalseAlarm)
		}
	}
	if kept, err := Origins(shop, k); err != nil || kept[alarms.String()].Value != 0.04 {
		t.Errorf("before it was %+v, %v", kept[alarms.String()], err)
	}
	if _, err := Undo(shop); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(before, contents(t, shop)); d != "" {
		t.Errorf("after undo:\n%s", d)
	}
}

// Every number of the rules can be set in an empty shop's folder, all at once,
// and taken back.
func TestApplyEveryNumber(t *testing.T) {
	k, err := load(t.TempDir(), embedded)
	if err != nil {
		t.Fatal(err)
	}
	var changes []Change
	rulepath.Walk(k, func(q rulepath.Path, n *engine.Number) {
		if n.Basis != nil {
			changes = append(changes, Change{Path: q, Text: "0.321", Cases: 7, Note: "all"})
		}
	})
	// Not all of them in a short run; each kind of block still comes up.
	every := size.Of(37, 11, 1)
	var some []Change
	for i, c := range changes {
		if i%every == 0 {
			some = append(some, c)
		}
	}
	changes = some
	shop := folder(t, nil)
	if _, err := Apply(shop, embedded, changes); err != nil {
		t.Fatal(err)
	}
	for _, f := range contents(t, shop) {
		if out, err := rules.Format("f", []byte(f)); err != nil || string(out) != f {
			t.Errorf("what was written is not in the usual layout: %v\n%s", err, cmp.Diff(f, string(out)))
		}
	}
	if _, err := Undo(shop); err != nil {
		t.Fatal(err)
	}
	if left := contents(t, shop); len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
	t.Logf("%d numbers", len(changes))
}
