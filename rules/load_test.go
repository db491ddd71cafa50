package rules_test

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"math/big"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"slipcase/engine"
	"slipcase/rules"
	"slipcase/rules/diag"
	"slipcase/rules/internal/told"
)

// page gives the snippets of language.md.
func page(t testing.TB) (text string, snippets []string) {
	b, err := os.ReadFile("language.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile("(?s)```hcl\n(.*?)```").FindAllStringSubmatch(string(b), -1) {
		snippets = append(snippets, m[1])
	}
	if len(snippets) < 7 {
		t.Fatalf("%d snippets", len(snippets))
	}
	return string(b), snippets
}

// TestPage loads every snippet of the language's page, as one body of
// knowledge, with what they name and do not show laid over them.
func TestPage(t *testing.T) {
	_, snippets := page(t)
	files := fstest.MapFS{}
	var cases []string
	for i, s := range snippets {
		switch first := regexp.MustCompile(`(?m)^(unit|case) "(.*?)"`).FindStringSubmatch(s); {
		case first == nil:
			files[fmt.Sprintf("rules/snippet-%d.hcl", i)] = &fstest.MapFile{Data: []byte(s)}
		case first[1] == "unit":
			files["units/"+first[2]+".hcl"] = &fstest.MapFile{Data: []byte(s)}
		default:
			cases = append(cases, s)
		}
	}
	opt := rules.Options{Layers: []rules.Layer{{Name: "page", FS: files}, {Name: "rest", FS: os.DirFS("testdata/page")}}}
	k, diags := rules.Load(opt)
	if len(cases) != 2 || len(k.Units) != 5 || len(k.Examples) != 1 {
		t.Fatalf("%d cases, %d units, %d examples", len(cases), len(k.Units), len(k.Examples))
	}
	for _, src := range cases {
		c, more := rules.LoadCase("case.hcl", []byte(src))
		diags = append(append(diags, more...), rules.ResolveCase(k, c)...)
	}
	for _, d := range diags {
		t.Errorf("%s", told.Render(d, told.Source(opt, d.Subject.File), 80))
	}
}

// counting is a file system that notes which files were opened.
type counting struct {
	fs.FS
	mu     *sync.Mutex // files are opened from several goroutines
	opened map[string]int
}

func (c counting) Open(name string) (fs.File, error) {
	if strings.HasSuffix(name, ".hcl") {
		c.mu.Lock()
		c.opened[name]++
		c.mu.Unlock()
	}
	return c.FS.Open(name)
}

// TestOneUnit reads the unit asked for, what it is like, and the rules.
func TestOneUnit(t *testing.T) {
	files := fstest.MapFS{
		"units/a.hcl":     {Data: []byte("language = 1\nunit \"a\" {\n  like = \"b\"\n}\n")},
		"units/b.hcl":     {Data: []byte("language = 1\nunit \"b\" {\n  like = \"mill-2\"\n}\n")},
		"units/other.hcl": {Data: []byte("not read")},
	}
	for p, src := range all(t, "testdata/base") {
		files[p] = &fstest.MapFile{Data: src}
	}
	c := counting{files, &sync.Mutex{}, map[string]int{}}
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "k", FS: c}}, Unit: "a"})
	for _, d := range diags {
		t.Error(d)
	}
	if len(k.Units) != 1 || k.Units[0].ID != "a" || len(k.Units[0].Rows) != 5 {
		t.Fatalf("units %v", k.Units)
	}
	for name, want := range map[string]int{"units/a.hcl": 1, "units/b.hcl": 1, "units/mill-2.hcl": 1, "units/other.hcl": 0, "rules/rules.hcl": 1} {
		if c.opened[name] != want {
			t.Errorf("%s opened %d times", name, c.opened[name])
		}
	}
	_, diags = rules.Load(rules.Options{Layers: []rules.Layer{base}, Unit: "mil-2"})
	if len(diags) != 1 || !strings.Contains(diags[0].Detail, `"mill-2"`) {
		t.Error(diags)
	}
	if got := rules.Units([]rules.Layer{{Name: "k", FS: c}}); strings.Join(got, " ") != "a b mill-2 other" {
		t.Error(got)
	}
}

func all(t testing.TB, dir string) map[string][]byte {
	out := map[string][]byte{}
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(p, ".hcl") {
			return err
		}
		b, err := os.ReadFile(p)
		rel, _ := filepath.Rel(dir, p)
		out[filepath.ToSlash(rel)] = b
		return err
	})
	if err != nil || len(out) == 0 {
		t.Fatal(dir, err)
	}
	return out
}

// huge claims 50 MB and must not be read.
type huge struct {
	fs.FS
	t *testing.T
}

type hugeFile struct {
	fs.File
	t *testing.T
}

func (h huge) Open(name string) (fs.File, error) {
	f, err := h.FS.Open(name)
	if name == "rules/a.hcl" {
		return hugeFile{f, h.t}, err
	}
	return f, err
}

func (f hugeFile) Stat() (fs.FileInfo, error) {
	i, err := f.File.Stat()
	return hugeInfo{i}, err
}

func (f hugeFile) Read([]byte) (int, error) {
	f.t.Error("a file over the limit was read")
	return 0, fs.ErrInvalid
}

type hugeInfo struct{ fs.FileInfo }

func (hugeInfo) Size() int64 { return 50 << 20 }

func TestTooLong(t *testing.T) {
	files := fstest.MapFS{"rules/a.hcl": {Data: []byte("x")}}
	_, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "k", FS: huge{files, t}}}})
	if len(diags) != 1 || diags[0].Summary != "file too long" || !strings.Contains(diags[0].Detail, "51200 KiB") {
		t.Error(diags)
	}
	// One that grows beyond what it claims is cut off and refused.
	files["rules/a.hcl"] = &fstest.MapFile{Data: []byte(strings.Repeat("# long\n", 50000))}
	_, diags = rules.Load(rules.Options{Layers: []rules.Layer{{Name: "k", FS: files}}})
	if len(diags) != 1 || diags[0].Summary != "file too long" {
		t.Error(diags)
	}
}

// caseOptions lays a folder of testdata/cases over the base.
func caseOptions(name string) rules.Options {
	return rules.Options{Layers: []rules.Layer{base, {Name: "case", FS: os.DirFS("testdata/cases/" + name)}}}
}

func mode(k *engine.Knowledge, name string) *engine.Mode {
	for i := range k.Modes {
		if k.Modes[i].Name == name {
			return &k.Modes[i]
		}
	}
	return nil
}

// TestOverlay compares what comes out of layers with what the page says.
func TestOverlay(t *testing.T) {
	k, _ := rules.Load(caseOptions("overlay-merge"))
	m := mode(k, "burnt_friction")
	if m.Frequency.Text != "0.03" || m.Frequency.At.File != "case/rules/a.hcl" || m.Frequency.Basis.At.File != "case/rules/a.hcl" {
		t.Errorf("frequency %+v", m.Frequency)
	}
	if m.Title != "lining burnt" || len(m.Effects) != 2 || m.Effects[0].Strength.Value != 0.9 || m.Effects[1].Strength.Text != "uncertain" {
		t.Errorf("%+v", m)
	}
	if b := m.Effects[1].Strength.Basis; b.At.File != "base/rules/rules.hcl" {
		t.Errorf("the basis of a number that was not laid over is %v", b.At)
	}

	k, _ = rules.Load(caseOptions("overlay-drop"))
	if m := mode(k, "burnt_friction"); len(m.Effects) != 1 || m.Effects[0].To != "slips" {
		t.Errorf("effects %+v", m.Effects)
	}
	for _, f := range k.Findings {
		if f.Name == "flare" {
			t.Error("a dropped finding is there")
		}
	}

	k, _ = rules.Load(caseOptions("former-key"))
	if m := mode(k, "burnt_friction"); m.Frequency.Text != "0.03" || mode(k, "burned_friction") != nil {
		t.Errorf("overlay under an old name: %+v", m.Frequency)
	}

	k, diags := rules.Load(caseOptions("like"))
	if len(diags) > 0 {
		t.Fatal(diags)
	}
	a, b := k.Unit("mill-2"), k.Unit("mill-2x")
	if len(a.Rows) != len(b.Rows) || len(b.Components) != 5 || b.Title == a.Title || b.ID != "mill-2x" {
		t.Errorf("like: %+v", b)
	}
	if b.Limits[0].High.Text != "1.2 mm" || b.Limits[0].Low.Text != "0.3 mm" || a.Limits[0].High.Text != "0.9 mm" {
		t.Errorf("limits %+v, %+v", a.Limits[0], b.Limits[0])
	}
	if a.Steps[0].Minutes.Value != 20 || b.Steps[0].Minutes.Value != 25 {
		t.Error("minutes")
	}

	k, diags = rules.Load(caseOptions("two-effects-by-when"))
	if m := mode(k, "rusty"); len(diags) > 0 || len(m.Effects) != 2 || m.Effects[0].When != engine.Hot || m.Effects[1].When != engine.Cold {
		t.Errorf("%v %+v", diags, m)
	}
}

// TestShopOverlayByWhen: an upper block without `when` means the only lower
// one, and is refused where there are two.
func TestShopOverlayByWhen(t *testing.T) {
	upper := func(effect string) rules.Options {
		return rules.Options{Layers: []rules.Layer{base, {Name: "shop", FS: fstest.MapFS{"rules/x.hcl": {Data: []byte(
			"language = 1\nbasis \"recalled\" {\n}\nmode \"burnt_friction\" {\n  effect \"" + effect + "\" {\n    strength = 0.1\n  }\n}\n")}}}}}
	}
	k, diags := rules.Load(upper("dead"))
	if m := mode(k, "burnt_friction"); len(diags) > 0 || len(m.Effects) != 2 || m.Effects[1].Strength.Value != 0.1 || m.Effects[1].When != engine.Hot {
		t.Errorf("%v %+v", diags, m.Effects)
	}
	opt := upper("dead")
	opt.Layers = append(opt.Layers[:1], rules.Layer{Name: "mid", FS: fstest.MapFS{"rules/x.hcl": {Data: []byte(
		"language = 1\nbasis \"recalled\" {\n}\nmode \"burnt_friction\" {\n  effect \"dead\" {\n    strength = 0.1\n    when = cold\n  }\n}\n")}}}, opt.Layers[1])
	_, diags = rules.Load(opt)
	if len(diags) != 1 || diags[0].Subject.File != "shop/rules/x.hcl" || !strings.Contains(diags[0].Summary, "which") {
		t.Errorf("%v", diags)
	}
}

// TestKept: printed digits, exact values, places and defaults survive.
func TestKept(t *testing.T) {
	k, _ := rules.Load(rules.Options{Layers: []rules.Layer{base}})
	u := k.Unit("mill-2")
	r := u.Rows[2]
	if r.Name() != "D/1" || r.RatioText != "1.50" || r.Ratio.Cmp(big.NewRat(3, 2)) != 0 || r.RatioAt.Line != 46 || *r.EngineBraking || !r.HoldingStated || r.Holding[0] != "low_roller" {
		t.Errorf("%+v", r)
	}
	if r.ConverterFactor.Value != 2 || r.PressureFactor.Text != "" || u.Rows[3].ConverterFactor.Text != "" || !u.Rows[3].HoldingStated || u.Rows[4].HoldingStated {
		t.Error("factors and what is stated")
	}
	if g := u.Train.Gearsets[0]; g.SunTeeth != 30 || g.RingTeeth != 60 || g.TeethText != [2]string{"30", "60"} || g.Basis == nil {
		t.Errorf("%+v", g)
	}
	if e := u.Elements[3]; e.Kind != engine.OneWay || e.A != "sun" || e.B != engine.CaseMember {
		t.Errorf("%+v", e)
	}
	if p := u.Pressures[0]; p.Place() != "idle/D" || p.Low.Text != "50 psi" || p.High.Unit != "psi" || p.Basis == nil {
		t.Errorf("%+v", p)
	}
	if c := u.Components[3]; c.Frequency["cut_ring"].Value != 0.02 || c.Serves[0].Kind != engine.OnCircuit || c.Serves[0].Name != "line" {
		t.Errorf("%+v", c)
	}
	if s := u.Steps; s[1].Stage != engine.StagePulled || !s[1].Pulls || s[2].Stage != engine.StageTeardown || s[1].Refit.Value != 150 {
		t.Errorf("%+v", s)
	}
	m := mode(k, "burnt_friction")
	if m.Because[0].Scope != "shares" || m.Effects[1].When != engine.Hot || m.Effects[0].Strength.Value != 0.85 || m.Effects[0].Strength.Text != "probable" {
		t.Errorf("%+v", m)
	}
	if m.Frequency.Basis.Kind != engine.Invented || m.Frequency.Basis.Note != "for tests" || m.At.File != "base/rules/rules.hcl" || m.At.Line == 0 {
		t.Errorf("%+v", m.Frequency)
	}
}

// TestBasisNearest: file, block, nested block.
func TestBasisNearest(t *testing.T) {
	src := `language = 1
basis "recalled" {
}
mode "rusty" {
  of        = [friction_pack]
  frequency = 0.01
  basis "shop record" {
    cases = 12
  }
  effect "slips" {
    strength = 0.5
  }
  effect "dead" {
    strength = 0.5
    basis "published" {
      cite = "a table"
    }
  }
}
mode "dusty" {
  of        = [friction_pack]
  frequency = 0.01
}
`
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{base}, Extra: []rules.File{{Name: "x.hcl", Src: []byte(src)}}})
	if len(diags) > 0 {
		t.Fatal(diags)
	}
	m := mode(k, "rusty")
	if m.Frequency.Basis.Kind != engine.ShopRecord || m.Frequency.Basis.Cases != 12 || m.Effects[0].Strength.Basis.Kind != engine.ShopRecord || m.Effects[1].Strength.Basis.Kind != engine.Published || m.Basis.Kind != engine.ShopRecord {
		t.Errorf("%+v", m)
	}
	if mode(k, "dusty").Frequency.Basis.Kind != engine.Recalled {
		t.Error("file's basis")
	}
}

// TestUnitFile loads a unit by path with the rules.
func TestUnitFile(t *testing.T) {
	src := all(t, "testdata/cases/like")["units/mill-2x.hcl"]
	k, u, diags := rules.LoadUnitFile(rules.Options{Layers: []rules.Layer{base}}, rules.File{Name: "here/mill-2x.hcl", Src: src})
	if len(diags) > 0 || u == nil || u.ID != "mill-2x" || len(k.Units) != 1 || len(u.Rows) != 5 || len(k.Modes) != 4 {
		t.Fatalf("%v %+v", diags, u)
	}
	_, u, diags = rules.LoadUnitFile(rules.Options{Layers: []rules.Layer{base}}, rules.File{Name: "other.hcl", Src: src})
	if u != nil || len(diags) != 1 || diags[0].Subject.File != "other.hcl" {
		t.Error(u, diags)
	}
}

// TestHash: the same bytes give the same hash, one byte more another.
func TestHash(t *testing.T) {
	a, _ := rules.Load(rules.Options{Layers: []rules.Layer{base}})
	b, _ := rules.Load(rules.Options{Layers: []rules.Layer{base}})
	c, _ := rules.Load(rules.Options{Layers: []rules.Layer{base}, Extra: []rules.File{{Name: "x", Src: []byte("language = 1\n")}}})
	d, _ := rules.Load(rules.Options{Layers: []rules.Layer{base}, Extra: []rules.File{{Name: "x", Src: []byte("language = 1\n#")}}})
	if a.Hash != b.Hash || len(a.Hash) != 64 || c.Hash == a.Hash || d.Hash == c.Hash {
		t.Error(a.Hash, b.Hash, c.Hash, d.Hash)
	}
}

// TestFingerprint: without reading a rule, the hash is that of a load.
func TestFingerprint(t *testing.T) {
	over := rules.Layer{Name: "shop", FS: fstest.MapFS{"rules/own.hcl": {Data: []byte("language = 1\n")}, "units/mill.hcl": {Data: []byte("language = 1\n")}}}
	for _, layers := range [][]rules.Layer{{base}, {base, over}} {
		k, _ := rules.Load(rules.Options{Layers: layers})
		if got, diags := rules.Fingerprint(layers); got != k.Hash || len(diags) > 0 {
			t.Errorf("%s %v, want %s", got, diags, k.Hash)
		}
	}
}

// TestDeterministic loads what is most at odds many times, on one core and
// several.
func TestDeterministic(t *testing.T) {
	dirs, _ := filepath.Glob("testdata/cases/*")
	var opt rules.Options
	opt.Layers = append(opt.Layers, base)
	for _, d := range dirs {
		opt.Layers = append(opt.Layers, rules.Layer{Name: filepath.Base(d), FS: os.DirFS(d)})
	}
	var first string
	for i := range 12 {
		was := runtime.GOMAXPROCS(1 + i%4)
		k, diags := rules.Load(opt)
		runtime.GOMAXPROCS(was)
		b, err := json.Marshal(k)
		if err != nil {
			t.Fatal(err)
		}
		got := lines(diags) + string(b)
		for _, d := range diags {
			got += d.Error()
		}
		if i == 0 {
			first = got
			if len(diags) != diag.Most+1 || !strings.HasPrefix(diags[diag.Most].Summary, "and ") {
				t.Errorf("%d diagnostics, last %q", len(diags), diags[len(diags)-1].Summary)
			}
			continue
		}
		if got != first {
			t.Fatalf("run %d differs", i)
		}
	}
}

// TestCaseFile reads a case with all that it can hold.
func TestCaseFile(t *testing.T) {
	src := all(t, "testdata/cases/case-sound")["case.hcl"]
	c, diags := rules.LoadCase("case.hcl", src)
	if len(diags) > 0 {
		t.Fatal(diags)
	}
	if c.ID != "c" || c.Unit != "mill-2" || len(c.Reports) != 5 || c.Reports[0].State != engine.Present || c.Reports[4].State != engine.Absent || c.Reports[4].By != "driver" {
		t.Errorf("%+v", c)
	}
	if want := time.Date(2026, 3, 1, 14, 30, 0, 0, time.UTC); !c.Reports[0].At.Equal(want) {
		t.Error(c.Reports[0].At)
	}
	if len(c.Readings) != 2 || c.Readings[0].Place != "idle/D" || c.Readings[1].Value.Text != "0.030 in" || c.Readings[1].By != "eye" {
		t.Errorf("%+v", c.Readings)
	}
	if len(c.Seen) != 2 || c.Seen[0].Cause != "wrong_fluid" || !c.Seen[1].Cleared || len(c.Settled) != 1 || !c.Settled[0].Present || len(c.Done) != 2 || c.DoneAt[1].Line == 0 {
		t.Errorf("%+v", c)
	}
}

// TestFormerNames: old names become new ones in the nouns.
func TestFormerNames(t *testing.T) {
	k, _ := rules.Load(caseOptions("former-reference"))
	m := mode(k, "rusty")
	if m.Shows[0].To != "slips@*" || m.Because[0].Of != "burnt_friction" {
		t.Errorf("%+v", m)
	}
	src := all(t, "testdata/cases/case-former-names")["case.hcl"]
	c, _ := rules.LoadCase("case.hcl", src)
	rules.ResolveCase(k, c)
	if c.Reports[0].Finding != "slips@D/1" || c.Seen[0].Component != "forward_plates" || c.Seen[0].Mode != "burnt_friction" || c.Seen[0].Cause != "wrong_fluid" {
		t.Errorf("%+v", c)
	}
}

// mapLayer is a layer made by a test.
type mapLayer map[string][]byte

func (m mapLayer) fs() fs.FS {
	out := fstest.MapFS{}
	for p, b := range m {
		out[p] = &fstest.MapFile{Data: b}
	}
	return out
}

func itoa(n int) string { return fmt.Sprint(n) }

// TestNoExamples passes over the examples and over nothing else.
func TestNoExamples(t *testing.T) {
	files := fstest.MapFS{"rules/x.hcl": {Data: []byte("language = 1\nbasis \"invented\" {\n}\nexample \"e\" {\n  unit = nowhere\n  expect = [\"}\"] # }\n}\nexample e2 { unit = x }\nstress \"example\" {\n}\nexamples \"z\" {\n}\n")}}
	opt := rules.Options{Layers: []rules.Layer{base, {Name: "x", FS: files}}}
	_, all := rules.Load(opt)
	opt.NoExamples = true
	k, diags := rules.Load(opt)
	if len(k.Examples) != 0 || len(diags) != 1 || diags[0].Subject.Line != 11 || len(all) < 3 {
		t.Errorf("%d examples, %v; with them %v", len(k.Examples), diags, all)
	}
	if !slices.ContainsFunc(k.Stresses, func(s engine.Stress) bool { return s.Name == "example" }) {
		t.Error("what follows an example is lost")
	}
}

// refusing is a folder whose one part cannot be read.
type refusing struct {
	fs.FS
	dir string
}

func (r refusing) ReadDir(name string) ([]fs.DirEntry, error) {
	if name == r.dir {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
	}
	return fs.ReadDir(r.FS, name)
}

// TestFolderRefused: a folder that is there and cannot be read is an error,
// not an empty folder.
func TestFolderRefused(t *testing.T) {
	for _, dir := range rules.Folders {
		_, diags := rules.Load(rules.Options{Layers: []rules.Layer{base, {Name: "shop", FS: refusing{fstest.MapFS{}, dir}}}})
		if len(diags) != 1 || diags[0].Summary != "folder cannot be read" || diags[0].Subject.File != "shop/"+dir {
			t.Errorf("%s: %v", dir, diags)
		}
	}
}

// vanishing lists a file that is gone when it is asked for.
type vanishing struct{ fstest.MapFS }

func (v vanishing) ReadDir(name string) ([]fs.DirEntry, error) {
	return fs.ReadDir(fstest.MapFS{"rules/gone.hcl": {}}, name)
}

// TestFileGone: a file that somebody takes away between the list and the
// reading was never there.
func TestFileGone(t *testing.T) {
	if _, diags := rules.Load(rules.Options{Layers: []rules.Layer{base, {Name: "shop", FS: vanishing{}}}}); len(diags) != 0 {
		t.Error(diags)
	}
}

// TestManyUnits: the list of a folder is read once, whatever it holds.
func TestManyUnits(t *testing.T) {
	files := fstest.MapFS{}
	for i := range 300 {
		files[fmt.Sprintf("units/u%d.hcl", i)] = &fstest.MapFile{Data: []byte("language = 1\n")}
	}
	c := &countingDirs{FS: files}
	rules.Load(rules.Options{Layers: []rules.Layer{{Name: "shop", FS: c}}})
	if c.n > 20 {
		t.Errorf("%d folders read for 300 units", c.n)
	}
}

type countingDirs struct {
	fs.FS
	n int
}

func (c *countingDirs) ReadDir(name string) ([]fs.DirEntry, error) {
	c.n++
	return fs.ReadDir(c.FS, name)
}

// TestWithheldOnce: what several checks wait for stands once, and a shop that
// words it anew words it for all of them. A check's own blocks come first.
func TestWithheldOnce(t *testing.T) {
	const own = `language = 1
basis "invented" {
  note = "for tests"
}
withheld "burnt" {
  if     = "lining_in_pan"
  reason = "it is burnt"
}
check "one" {
  stage       = road
  minutes     = 1
  yields      = ["slips@*"]
  unless   = ["burnt"]
}
check "pressures" {
  unless   = ["burnt"]
}
`
	const shop = `language = 1
withheld "burnt" {
  reason = "do not drive it"
}
`
	layers := []rules.Layer{base, {Name: "own", FS: fstest.MapFS{"checks/a.hcl": {Data: []byte(own)}}}}
	for _, reason := range []string{"it is burnt", "do not drive it"} {
		k, diags := rules.Load(rules.Options{Layers: layers})
		for _, d := range diags {
			t.Error(d)
		}
		want := map[string]string{"one": reason, "pressures": "it is burnt already; " + reason}
		for _, c := range k.Checks {
			var got []string
			for _, w := range c.Withheld {
				if w.If != "lining_in_pan" {
					t.Errorf("%s waits for %q", c.Name, w.If)
				}
				got = append(got, w.Reason)
			}
			if s := strings.Join(got, "; "); s != want[c.Name] {
				t.Errorf("%s: %q, want %q", c.Name, s, want[c.Name])
			}
		}
		layers = append(layers, rules.Layer{Name: "shop", FS: fstest.MapFS{"checks/b.hcl": {Data: []byte(shop)}}})
	}
}
