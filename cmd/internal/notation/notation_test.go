package notation

import (
	"fmt"
	"strings"
	"testing"

	"slipcase/engine"
)

// said writes items shortly, for comparison.
func said(items []Item) string {
	var out []string
	for _, x := range items {
		switch {
		case x.Wrong != nil:
			out = append(out, "wrong: "+x.Wrong.Messages[0].Summary)
		case x.Report != nil:
			out = append(out, x.Report.Finding+" "+string(x.Report.State))
		default:
			out = append(out, strings.TrimSpace(x.Reading.Name+" "+x.Reading.Place)+" "+x.Reading.Value.Text)
		}
	}
	return strings.Join(out, "; ")
}

func TestNotes(t *testing.T) {
	isReading := func(name string) bool { return name == "line_pressure" || name == "coil" }
	for _, c := range []struct{ words, want string }{
		{"slips@D/4", "slips@D/4 present"},
		{"slips@D/4:hot=no", "slips@D/4:hot absent"},
		{"slips@D/4 absent flare@D/2-3", "slips@D/4 absent; flare@D/2-3 present"},
		{"slips@D/4 unknown", "slips@D/4 unknown"},
		{"no slips@D/4", `wrong: "no" comes before any finding; slips@D/4 present`},
		{"slips@D/4=perhaps", `wrong: slips@D/4=perhaps: "perhaps" is not a valid state`},
		{"p0741 P0700=no", "code_P0741 present; code_P0700 absent"},
		{"D/3=good", engine.GoodPrefix + "D/3 present"},
		{"D/3 fine slips@D/4", engine.GoodPrefix + "D/3 present; slips@D/4 present"},
		{"D/3 slips@D/4", "wrong: D/3 is a row, not a finding; slips@D/4 present"},
		{"line_pressure idle R 62 psi", "line_pressure idle/R 62 psi"},
		{"line_pressure@idle/R=62psi slips@R/R", "line_pressure idle/R 62psi; slips@R/R present"},
		{"line_pressure idle R 62", `wrong: line_pressure idle R 62: unit of measure missing; write it after the number, as in "62 psi"`},
		{"line_pressure idle R", "wrong: line_pressure idle R has no value"},
		{"stall R 3500 rpm slips@R/R", "stall R 3500 rpm; slips@R/R present"},
		{"stall=3500rpm", "stall 3500rpm"},
		{"slips@D/4 line_pressure idle R 62 psi", "slips@D/4 present; line_pressure idle/R 62 psi"},
		{"slips@D/4 stall=3500rpm", "slips@D/4 present; stall 3500rpm"},
		{"slips@D/4 no stall 3500 rpm", "slips@D/4 absent; stall 3500 rpm"},
		{"slips@D/4 62", "slips@D/4 present; 62 present"},
		{"coil 26 ohm at 110 degC P0750", "coil 26 ohm at 110 degC; code_P0750 present"},
	} {
		got := said(Notes(strings.Fields(c.words), isReading))
		if got != c.want {
			t.Errorf("%s\n got %s\nwant %s", c.words, got, c.want)
		}
	}
}

func TestMeasures(t *testing.T) {
	got := said(Measures([]string{"input_end_play=0.62mm", "clearance=0.9 mm", "clearance", "clearance=0.9 mm or so"}))
	want := `input_end_play 0.62mm; clearance 0.9 mm; wrong: clearance has no value; wrong: "clearance=0.9 mm or so": unexpected "or"`
	if got != want {
		t.Errorf("got %s", got)
	}
}

func TestDrives(t *testing.T) {
	var out []string
	for _, d := range Drives([]string{"D/1,D/2=good", "D/3=bad: slips when hot ", "D/4", "D/4=well"}) {
		if d.Wrong != nil {
			out = append(out, "wrong")
			continue
		}
		out = append(out, fmt.Sprint(d.Place, " ", d.OK, " ", d.Note))
	}
	if got, want := strings.Join(out, ";"), "D/1 true ;D/2 true ;D/3 false slips when hot;wrong;wrong"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func TestCauses(t *testing.T) {
	for _, c := range []struct {
		words, want string
		fails       bool
	}{
		{"low_fluid yes overheated=no", "low_fluid true, overheated false", false},
		{"low_fluid", "", true},
		{"low_fluid perhaps", "", true},
		{"", "", true},
	} {
		list, err := Causes(strings.Fields(c.words))
		var got []string
		for _, x := range list {
			got = append(got, fmt.Sprint(x.Cause, " ", x.Present))
		}
		if (err != nil) != c.fails || strings.Join(got, ", ") != c.want {
			t.Errorf("%q: %v, %v", c.words, got, err)
		}
	}
}

func TestEntries(t *testing.T) {
	got, err := Entries([]string{"2", "5-7"})
	if err != nil || fmt.Sprint(got) != "[2 5 6 7]" {
		t.Error(got, err)
	}
	for _, bad := range []string{"0", "-1", "x", "7-5", "1-", "1-20000", "99999999999999999999"} {
		if _, err := Entries([]string{bad}); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
}

func TestSuspect(t *testing.T) {
	for _, words := range [][]string{{"pump/worn"}, {"pump", "worn"}} {
		if c, m := Suspect(words...); c != "pump" || m != "worn" {
			t.Error(words, c, m)
		}
	}
	if c, m := Suspect("pump"); c != "pump" || m != "" {
		t.Error(c, m)
	}
}

// Whatever is typed is read or refused; nothing is dropped without a word, and
// nothing hangs or crashes.
func FuzzNotes(f *testing.F) {
	for _, s := range []string{"slips@D/4:hot=no", "line_pressure idle R 62 psi", "D/3 good", "no", "coil 26 ohm at 110 degC", "= == @=", "P0741 yes"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, line string) {
		words := strings.Fields(line)
		items := Notes(words, func(name string) bool { return strings.HasPrefix(name, "l") || strings.HasPrefix(name, "c") })
		if len(words) > 0 && len(items) == 0 {
			t.Errorf("%q gives nothing", line)
		}
		for _, x := range items {
			n := 0
			for _, is := range []bool{x.Report != nil, x.Reading != nil, x.Wrong != nil} {
				if is {
					n++
				}
			}
			if n != 1 {
				t.Errorf("%q: an item that is %d things", line, n)
			}
		}
	})
}
