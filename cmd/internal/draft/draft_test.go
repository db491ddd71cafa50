package draft

import (
	"errors"
	"io/fs"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"slipcase/engine"
	"slipcase/engine/geartrain"
	"slipcase/knowledge"
	"slipcase/rules"
	"slipcase/rules/check"
	"slipcase/rules/diag"
)

func units(t *testing.T) []*engine.Unit {
	t.Helper()
	k, diags := allUnits()
	if diag.HasErrors(diags) {
		t.Fatal(diags)
	}
	return slices.Clone(k.Units)
}

var allUnits = sync.OnceValues(func() (*engine.Knowledge, []engine.Diagnostic) {
	return rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: fs.FS(knowledge.FS)}}})
})

// play answers by what the question is; what script has no answer for takes
// the default.
func play(t *testing.T, d *Draft, script map[string]string) []Reply {
	t.Helper()
	var out []Reply
	for n := 0; d.Next().Kind != Done; n++ {
		if n > 200 {
			t.Fatal("no end")
		}
		q := d.Next()
		key := string(q.Kind)
		switch q.Kind {
		case AskName:
			key += " " + q.Element.Name
		case AskRatio:
			key += " " + q.Gear
		case AskRow:
			key += " " + q.Row
		}
		text, ok := script[key]
		if ok && (q.Kind == AskMore || q.Kind == AskMend) {
			delete(script, key) // once
		}
		r, err := d.Answer(text)
		if err != nil {
			t.Fatalf("%s: %q: %v", key, text, err)
		}
		out = append(out, r)
	}
	return out
}

// load reads the text as a shop's unit and checks it like any other.
func load(t *testing.T, id, text string) (*engine.Unit, []engine.Diagnostic) {
	t.Helper()
	shop := fstest.MapFS{"units/" + id + ".hcl": {Data: []byte(text)}}
	k, diags := rules.Load(rules.Options{Unit: id, Layers: []rules.Layer{{Name: "knowledge", FS: fs.FS(knowledge.FS)}, {Name: "shop", FS: shop}}})
	if !diag.HasErrors(diags) {
		diags = append(diags, check.Run(k, check.Options{Part: true, Known: diags})...)
	}
	return k.Unit(id), diags
}

// TestFromPaper: a builder's own four-speed with the overdrive set ahead, told
// as its manual prints it (names of its own, published ratios of od-simpson-4
// in testdata/geartrains, teeth unknown), becomes a unit that checks without a
// word, with the teeth that give those ratios.
func TestFromPaper(t *testing.T) {
	d := New("shop-4", units(t))
	replies := play(t, d, map[string]string{
		"train": "od-simpson-4", "title": "Shop's four-speed", "source": "the workshop manual, section 5",
		"name od_direct": "C0", "name forward": "C1", "name direct": "C2", "name od_brake": "B0",
		"name second_coast_band": "B1", "name second": "B2", "name low_reverse": "B3", "name od_one_way": "F0", "name second_one_way": "F1", "name low_one_way": "F2",
		"ratio 1": "2.804", "ratio 2": "1.531", "ratio 3": "1.000", "ratio 4": "0.705", "ratio R": "2.393",
	})
	fit := slices.IndexFunc(replies, func(r Reply) bool { return r.Fit != nil })
	if fit < 0 || replies[fit].Fit.Sets == 0 {
		t.Fatalf("no teeth: %+v", replies)
	}
	for _, r := range replies {
		if r.Row != nil && r.Row.Row == "D/1" && (r.Row.Class != geartrain.Drives || !slices.Equal(r.Row.Holding, []string{"f2"})) {
			t.Errorf("first: %+v", r.Row)
		}
		if len(r.Disagree) > 0 {
			t.Errorf("disagree: %v", r.Disagree)
		}
	}
	u, diags := load(t, "shop-4", d.Text())
	for _, x := range diags {
		t.Errorf("%v", x)
	}
	if u == nil {
		t.Fatal(d.Text())
	}
	if n := strings.Count(d.Text(), "\n"); n > 120 {
		t.Errorf("%d lines", n)
	}
	if u.Elements[0].Name != "c0" || u.Elements[0].Title != "C0 clutch" || !strings.Contains(d.Text(), "# overdrive direct clutch") || u.MadeParts() < 50 {
		t.Errorf("%+v, %d parts", u.Elements[0], u.MadeParts())
	}
}

// TestContradiction: a chart put down wrongly is told, with the smallest repair,
// and put again.
func TestContradiction(t *testing.T) {
	d := New("shop-4", units(t))
	replies := play(t, d, map[string]string{
		"train":   "od-simpson-4",
		"ratio 1": "2.804", "ratio 2": "1.531", "ratio 3": "1.000", "ratio 4": "0.705", "ratio R": "2.393",
		"row D/2": "od_direct, forward", // the second brake forgotten
		"mend":    "D/2",
	})
	told := slices.IndexFunc(replies, func(r Reply) bool { return len(r.Disagree) > 0 })
	if told < 0 || !slices.Equal(replies[told].Disagree, []string{"D/2"}) {
		t.Fatalf("not told: %+v", replies)
	}
	want := geartrain.Edit{Kind: geartrain.EditApply, Row: "D/2", Name: "second"}
	if !slices.ContainsFunc(replies[told].Repairs, func(s []geartrain.Edit) bool {
		return len(s) == 1 && s[0].Kind == want.Kind && s[0].Row == want.Row && s[0].Name == want.Name
	}) {
		t.Errorf("repairs %v, want %v among them", replies[told].Repairs, want)
	}
}

// TestResume: the answers given so far bring a draft to the same question, and
// the same text.
func TestResume(t *testing.T) {
	all := units(t)
	script := map[string]string{"train": "lepelletier-6", "ratio 1": "4.171", "ratio 2": "2.340", "ratio 3": "1.521", "ratio 4": "1.143", "ratio 5": "0.867", "ratio 6": "0.691", "ratio R": "3.403", "more": "M/1 = one_to_four, low_reverse"}
	d := New("six", all)
	play(t, d, script)
	said := d.Said()
	for n := 0; n <= len(said); n += 5 {
		e := New("six", all)
		e.Resume(said[:n])
		if got := e.Said(); !slices.Equal(got, said[:n]) {
			t.Fatalf("after %d: %q", n, got)
		}
		e.Resume(said[n:])
		if e.Text() != d.Text() {
			t.Fatalf("after %d another text", n)
		}
	}
	if !strings.Contains(d.Text(), `row "M" "1"`) {
		t.Error("the further row is missing")
	}
}

// TestRefused: what cannot be taken is an ErrAnswer, and the question stands.
func TestRefused(t *testing.T) {
	d := New("x", units(t))
	for _, c := range []struct {
		kind Kind
		text string
	}{{AskTrain, "nothing-7"}, {AskDrive, "sideways"}, {AskRatio, "two"}, {AskRow, "forwrad"}, {AskMore, "gibberish"}, {AskOrder, "nobody"}} {
		for d.Next().Kind != c.kind {
			text := ""
			if d.Next().Kind == AskTrain {
				text = "1"
			}
			if _, err := d.Answer(text); err != nil {
				t.Fatal(err)
			}
		}
		_, err := d.Answer(c.text)
		var bad *ErrAnswer
		if !errors.As(err, &bad) || d.Next().Kind != c.kind {
			t.Errorf("%s %q: %v", c.kind, c.text, err)
		}
	}
}

// A power-split train and a continuously variable ratio are refused by name
// where the builder says so, and the question stands.
func TestNotCovered(t *testing.T) {
	d := New("x", units(t))
	for _, c := range []struct {
		kind      Kind
		text, why string
	}{
		{AskTrain, "power split with two motors", engine.TwoInputs}, {AskTrain, "CVT", engine.VariableRatio}, {AskTrain, "nothing-7", ""},
		{AskRatio, "2.6-0.4", engine.VariableRatio}, {AskRatio, "2.6 to 0.4", engine.VariableRatio}, {AskRatio, "stepless", engine.VariableRatio}, {AskRatio, "two", ""},
	} {
		for d.Next().Kind != c.kind {
			text := ""
			if d.Next().Kind == AskTrain {
				text = "1"
			}
			if _, err := d.Answer(text); err != nil {
				t.Fatal(err)
			}
		}
		_, err := d.Answer(c.text)
		var bad *ErrAnswer
		if !errors.As(err, &bad) || bad.NotCovered != c.why || d.Next().Kind != c.kind {
			t.Errorf("%s %q: %v", c.kind, c.text, bad)
		}
	}
	if _, err := d.Answer("2.393"); err != nil {
		t.Error("a printed ratio is refused:", err)
	}
}

// FuzzDraft: no answer makes it panic, and what comes out can be read.
func FuzzDraft(f *testing.F) {
	f.Add("3\n\"${x}\n\nfront\n\n\n2.8\n1.5")
	f.Add("1\n\n\n\n\nC1\nC1\nB 1\n")
	k, _ := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: fs.FS(knowledge.FS)}}, Unit: "lepelletier-6"})
	f.Fuzz(func(t *testing.T, text string) {
		d := New("x", k.Units)
		for _, l := range strings.SplitN(text, "\n", 60) {
			d.Answer(l)
		}
		for n := 0; d.Next().Kind != Done && n < 200; n++ {
			if _, err := d.Answer(""); err != nil {
				d.Answer("1")
			}
		}
		if _, err := rules.Format("x.hcl", []byte(d.Text())); err != nil {
			t.Fatalf("%v\n%s", err, d.Text())
		}
	})
}

// TestNamesExchanged: a manual that calls the forward clutch what the unit built
// alike calls another one is taken at its word. The other gives the name up, and
// has to be named; what rows apply follows. A name that was given is not free.
func TestNamesExchanged(t *testing.T) {
	d := New("x", units(t))
	to := func(k Kind) Question {
		for d.Next().Kind != k {
			if _, err := d.Answer(map[Kind]string{AskTrain: "lepelletier-6"}[d.Next().Kind]); err != nil {
				t.Fatal(d.Next(), err)
			}
		}
		return d.Next()
	}
	q := to(AskName)
	names := map[string]string{"one_to_four": "Two-Six", "three_five_reverse": "B", "four_to_six": "C", "two_six": "One to Four", "low_reverse": "D"}
	for d.Next().Kind == AskName {
		q = d.Next()
		if q.Element.Name == "two_six" {
			for _, no := range []string{"", "B"} { // nothing is left to take for it; B is another
				if _, err := d.Answer(no); err == nil {
					t.Errorf("%q is taken for the brake that lost its name", no)
				}
			}
		}
		if _, err := d.Answer(names[q.Element.Name]); err != nil {
			t.Fatalf("%s: %v", q.Element.Name, err)
		}
	}
	for to(AskRow).Row != "D/2" {
		if _, err := d.Answer(""); err != nil {
			t.Fatal(err)
		}
	}
	if got := d.Next().Default; got != "two_six, one_to_four" {
		t.Errorf("second applies %s", got)
	}
	if d.Said()[0] != "lepelletier-6" {
		t.Errorf("the unit built alike is kept as %q", d.Said()[0])
	}
}

// TestRowContradicts: a row that is not what the manual prints is told as it is
// typed, with the element that would mend it: on the three-speed second is the
// rear clutch and the front band. With the front clutch instead of the band it is
// third; in neutral the front clutch with the rear band is reverse; a single
// element in reverse drives nothing.
func TestRowContradicts(t *testing.T) {
	d := New("x", units(t))
	for d.Next().Kind != AskRow {
		q := d.Next()
		text := map[Kind]string{AskTrain: "harrow-3"}[q.Kind]
		if q.Kind == AskRatio {
			text = map[string]string{"R": "2.21", "1": "2.45", "2": "1.45", "3": "1.00"}[q.Gear]
		}
		if _, err := d.Answer(text); err != nil {
			t.Fatal(err)
		}
	}
	type reply struct {
		wrong   bool
		repairs []string
	}
	for d.Next().Kind == AskRow {
		row := d.Next().Row
		text := map[string]string{"N/N": "front_clutch, rear_band", "R/R": "rear_band", "D/2": "rear_clutch, front_clutch"}[row]
		want := map[string]reply{
			"N/N": {true, []string{"release front_clutch", "release rear_band"}}, "R/R": {true, []string{"apply front_clutch"}},
			"D/2": {true, []string{"replace front_clutch"}},
		}[row]
		r, err := d.Answer(text)
		if err != nil || r.Row == nil {
			t.Fatal(row, err)
		}
		got := reply{wrong: r.Row.Wrong}
		for _, e := range r.Row.Repairs {
			got.repairs = append(got.repairs, string(e.Kind)+" "+e.Name)
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s %q: %+v, want %+v", row, text, got, want)
		}
	}
}
