package drawing

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"math"
	"math/big"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"slipcase/engine"
	"slipcase/engine/geartrain"
	"slipcase/internal/size"
	"slipcase/rules"
	"slipcase/rules/diag"
)

var update = flag.Bool("update", false, "write the golden files anew; refused when CI=true")

var known *engine.Knowledge

// units are the built-in ones.
func units(t *testing.T) []*engine.Unit {
	t.Helper()
	if known == nil {
		k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: os.DirFS("../../../knowledge")}}})
		if diag.HasErrors(diags) {
			t.Fatal(diags)
		}
		known = k
	}
	if len(known.Units) < 8 {
		t.Fatalf("%d units", len(known.Units))
	}
	return known.Units
}

func sketch(t *testing.T, u *engine.Unit) *Sketch {
	t.Helper()
	m, err := geartrain.New(u)
	if err != nil {
		t.Fatal(err)
	}
	return New(u, m)
}

// item is an element of a drawing.
type item struct {
	name  string
	attr  map[string]string
	text  string
	up    *item
	below []*item
}

// parse reads a drawing back; what is not well formed fails.
func parse(t *testing.T, svg string) *item {
	t.Helper()
	root := &item{}
	at := root
	d := xml.NewDecoder(strings.NewReader(svg))
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("not well formed: %v", err)
		}
		switch x := tok.(type) {
		case xml.StartElement:
			it := &item{name: x.Name.Local, attr: map[string]string{}, up: at}
			for _, a := range x.Attr {
				if _, twice := it.attr[a.Name.Local]; twice {
					t.Errorf("<%s> has %s twice", it.name, a.Name.Local)
				}
				it.attr[a.Name.Local] = a.Value
			}
			at.below = append(at.below, it)
			at = it
		case xml.EndElement:
			at = at.up
		case xml.CharData:
			at.text += string(x)
		}
	}
	if len(root.below) != 1 || root.below[0].name != "svg" {
		t.Fatal("no svg element at the root")
	}
	return root.below[0]
}

func (it *item) walk(f func(*item)) {
	f(it)
	for _, b := range it.below {
		b.walk(f)
	}
}

func (it *item) float(t *testing.T, name string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(it.attr[name], 64)
	if err != nil {
		t.Fatalf("<%s> %s: %v", it.name, name, err)
	}
	return v
}

func rat(t *testing.T, s string) *big.Rat {
	t.Helper()
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		t.Fatalf("no number: %q", s)
	}
	return r
}

// faultsOf are none, each alone, and some pairs.
func faultsOf(m *geartrain.Machine) [][]geartrain.Fault {
	out := [][]geartrain.Fault{nil}
	all := m.Faults()
	for i, f := range all {
		if every := size.Of(8, 1, 1); i%every != 0 && i%size.Of(16, 6, 6) != 1 {
			continue
		}
		out = append(out, []geartrain.Fault{f})
		if i%size.Of(16, 6, 6) == 1 {
			out = append(out, []geartrain.Fault{all[0], f})
		}
	}
	return out
}

// In every drawing every member stands at its speed, to scale: the places read
// back are one straight function of the speeds of the gear train.
func TestSpeedsToScale(t *testing.T) {
	points, cells := 0, 0
	for _, u := range units(t) {
		s := sketch(t, u)
		for _, faults := range faultsOf(s.m) {
			svg, err := s.Nomogram("", faults...)
			if err != nil {
				t.Fatal(err)
			}
			root := parse(t, svg)
			// The scale, from the figures at the grid.
			var zero, one float64
			root.walk(func(it *item) {
				if it.name == "text" && it.attr["text-anchor"] == "end" && it.attr["x"] == "40" {
					switch it.text {
					case "0":
						zero = it.float(t, "y") - 4
					case "1":
						one = it.float(t, "y") - 4
					}
				}
			})
			if zero == one {
				t.Fatalf("%s: no scale", u.ID)
			}
			drawn := map[string]int{}
			root.walk(func(it *item) {
				switch {
				case it.attr["data-y"] != "":
					speed := rat(t, it.attr["data-speed"])
					for _, r := range strings.Fields(it.up.attr["data-rows"]) {
						want := s.m.Under(s.m.RowIndex(r), faults...).Speeds[it.attr["data-member"]]
						if want == nil || want.Cmp(speed) != 0 {
							t.Errorf("%s %v %s %s: drawn at %s, turns at %v", u.ID, faults, r, it.attr["data-member"], speed, want)
						}
						drawn[r]++
						points++
					}
					// Where the sign itself stands, not what is written about it.
					y := center(t, it.below[0])
					if got := (zero - y) / (zero - one); math.Abs(got-float(speed)) > 0.004 {
						t.Errorf("%s %s: stands at %.3f, not %s", u.ID, it.attr["data-member"], got, speed.FloatString(3))
					}
				case it.attr["data-cell"] != "":
					for _, r := range strings.Fields(it.attr["data-rows"]) {
						for _, m := range s.m.Members() {
							if engine.Spaced(m) != it.attr["data-cell"] {
								continue
							}
							want := s.m.Under(s.m.RowIndex(r), faults...).Speeds[m]
							if want == nil || want.RatString() != it.attr["data-speed"] {
								t.Errorf("%s %v %s %s: table says %s, turns at %v", u.ID, faults, r, m, it.attr["data-speed"], want)
							}
							if figure := strings.TrimSuffix(it.text, " held"); want != nil && want.Sign() != 0 && figure != want.FloatString(3) {
								t.Errorf("%s %s %s: table prints %s", u.ID, r, m, figure)
							}
							cells++
						}
					}
				}
			})
			for i := range s.m.Rows() {
				if st := s.m.Under(i, faults...); st.Class == geartrain.Drives && drawn[s.m.RowName(i)] < 3 {
					t.Errorf("%s %v: %s drives and has %d points", u.ID, faults, s.m.RowName(i), drawn[s.m.RowName(i)])
				}
			}
		}
	}
	t.Logf("%d points and %d cells compared", points, cells)
}

// center is where a sign stands.
func center(t *testing.T, it *item) float64 {
	if it.name == "circle" {
		return it.float(t, "cy")
	}
	low, high := math.Inf(1), math.Inf(-1)
	for i, w := range strings.Fields(strings.TrimSuffix(it.attr["d"], "Z")) {
		if i%2 == 1 {
			y, err := strconv.ParseFloat(w, 64)
			if err != nil {
				t.Fatal(err)
			}
			low, high = min(low, y), max(high, y)
		}
	}
	return (low + high) / 2
}

// A lever's members stand so far apart that every row is straight: the point of
// each lies on the line through the outermost.
func TestLeversAreStraight(t *testing.T) {
	for _, u := range units(t) {
		s := sketch(t, u)
		for _, l := range s.levers(nil) {
			first, last := l.nodes[0], l.nodes[len(l.nodes)-1]
			for i := range s.m.Rows() {
				st := s.m.Row(i)
				a, b := st.Speeds[first.members[0]], st.Speeds[last.members[0]]
				for _, n := range l.nodes {
					v := st.Speeds[n.members[0]]
					if a == nil || b == nil || v == nil {
						continue
					}
					part := new(big.Rat).Quo(new(big.Rat).Sub(n.at, first.at), new(big.Rat).Sub(last.at, first.at))
					want := new(big.Rat).Add(a, part.Mul(part, new(big.Rat).Sub(b, a)))
					if want.Cmp(v) != 0 {
						t.Errorf("%s, %s, %s: %v on the line %v", u.ID, s.m.RowName(i), n.members[0], v, want)
					}
				}
			}
		}
	}
}

// Every row of every unit, sound and with every fault: speeds, torques and
// states in the power flow are the gear train's, and thickness goes by torque.
func TestPowerFlowIsTheTrain(t *testing.T) {
	compared := 0
	for _, u := range units(t) {
		s := sketch(t, u)
		for _, faults := range faultsOf(s.m) {
			for i := range s.m.Rows() {
				svg, err := s.PowerFlow(s.m.RowName(i), faults...)
				if err != nil {
					t.Fatal(err)
				}
				st := s.m.Under(i, faults...)
				perTorque, got := 0.0, map[string]bool{}
				parse(t, svg).walk(func(it *item) {
					if m := it.attr["data-member"]; m != "" {
						want, text := st.Speeds[m], it.attr["data-speed"]
						if want == nil && text != "" || want != nil && want.RatString() != text {
							t.Errorf("%s %s %v: %s at %s, turns at %v", u.ID, s.m.RowName(i), faults, m, text, want)
						}
						compared++
					}
					name := it.attr["data-column"]
					if name == "" {
						if q := it.attr["data-torque"]; q != "" && q != "shared" && q != "0" {
							width := it.float(t, "stroke-width")
							each := width / math.Abs(float(rat(t, q)))
							if width > 2.21 {
								if perTorque == 0 {
									perTorque = each
								}
								if math.Abs(each/perTorque-1) > 0.01 {
									t.Errorf("%s %s %v: torque %s is %.2f thick, others %.2f for each input torque", u.ID, s.m.RowName(i), faults, q, width, perTorque)
								}
							}
						}
						return
					}
					got[name] = true
					state := it.attr["data-state"]
					if (state == "holds") != slices.Contains(st.Holding, name) || (state == "overruns") != slices.Contains(st.Overrunning, name) {
						t.Errorf("%s %s %v: %s is drawn as %s", u.ID, s.m.RowName(i), faults, name, state)
					}
					torque, on := st.Torques[name]
					it.walk(func(b *item) {
						q := b.attr["data-torque"]
						if q == "" {
							return
						}
						if on && torque != nil && q != torque.RatString() || !on && q != "0" || on && torque == nil && q != "shared" {
							t.Errorf("%s %s %v: %s carries %s in the drawing, %v by physics", u.ID, s.m.RowName(i), faults, name, q, torque)
						}
						compared++
					})
				})
				for _, e := range u.Elements {
					if e.Kind != engine.ConverterClutch && !got[e.Name] {
						t.Errorf("%s: %s is not drawn", u.ID, e.Name)
					}
				}
			}
		}
	}
	t.Logf("%d figures compared", compared)
}

// What the lane of a member carries comes to nothing at its ends: all torques
// on it are drawn.
func TestLanesBalance(t *testing.T) {
	for _, u := range units(t) {
		s := sketch(t, u)
		for i := range s.m.Rows() {
			f := &flow{Sketch: s, st: s.m.Row(i), row: &u.Rows[i]}
			for _, m := range s.lanes {
				shaft := f.shaft(m)
				end := shaft[len(shaft)-1]
				if end == nil || m == engine.CaseMember {
					continue
				}
				want := new(big.Rat)
				if m == u.Train.Output && f.st.Ratio != nil && f.st.Torques != nil {
					want = f.st.Ratio
				}
				if end.Cmp(want) != 0 {
					t.Errorf("%s %s: %s ends with torque %v, not %v", u.ID, s.m.RowName(i), m, end, want)
				}
			}
		}
	}
}

// A few pictures as they were when they were looked at.
func TestGolden(t *testing.T) {
	byName := map[string]*Sketch{}
	for _, u := range units(t) {
		byName[u.ID] = sketch(t, u)
	}
	for _, g := range []struct {
		unit, row string
		speeds    bool
		faults    []geartrain.Fault
	}{
		{"harrow-3", "D/1", false, nil},
		{"northfork-4", "D/2", false, nil},
		{"northfork-4", "D/3", false, []geartrain.Fault{{Name: "direct", Kind: geartrain.Dead}}},
		{"four-gearset-8", "R/R", false, nil},
		{"northfork-4", "D/2", true, nil},
		{"lepelletier-6", "", true, nil},
	} {
		s := byName[g.unit]
		draw, name := s.PowerFlow, "flow"
		if g.speeds {
			draw, name = s.Nomogram, "speeds"
		}
		svg, err := draw(g.row, g.faults...)
		if err != nil {
			t.Fatal(err)
		}
		name = ident(g.unit, name, g.row)
		for _, f := range g.faults {
			name = ident(name, f.String())
		}
		file := filepath.Join("testdata", name+".svg")
		if *update {
			if os.Getenv("CI") != "" {
				t.Fatal("-update is refused in CI")
			}
			if err := os.WriteFile(file, []byte(svg), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(bytes.ReplaceAll(want, []byte("\r\n"), []byte("\n")), []byte(svg)) {
			t.Errorf("%s has changed: look at it, and run with -update when the change is meant", file)
		}
	}
}

// The same unit laid out twice is the same drawing.
func TestSameEveryTime(t *testing.T) {
	u := units(t)[0]
	a, _ := sketch(t, u).PowerFlow("D/2")
	b, _ := sketch(t, u).PowerFlow("D/2")
	if a != b || a == "" {
		t.Error("two drawings of one row differ")
	}
}

// Titles of a unit file can hold anything; the drawing stays well formed and
// the text is text.
func TestHostileNames(t *testing.T) {
	u := *units(t)[0]
	const evil = `"><script>alert(1)</script>&'` + "\x00\x1b\u202e]]>"
	u.Title = evil
	u.Elements = slices.Clone(u.Elements)
	for i := range u.Elements {
		u.Elements[i].Title = evil
	}
	s := sketch(t, &u)
	for _, svg := range []string{must(s.PowerFlow("D/1")), must(s.Nomogram("D/1"))} {
		parse(t, svg).walk(func(it *item) {
			if it.name == "script" {
				t.Error("a title became an element")
			}
		})
	}
	if _, err := s.PowerFlow("D/99"); err == nil || !strings.Contains(err.Error(), "D/1") {
		t.Errorf("a row that is not there: %v", err)
	}
}

func must(s string, err error) string {
	if err != nil {
		panic(err)
	}
	return s
}

// Every drawing tells a screen reader what it is and what it shows, and takes
// nothing from elsewhere.
func TestReadAloud(t *testing.T) {
	for _, u := range units(t) {
		s := sketch(t, u)
		for _, svg := range []string{must(s.PowerFlow("R/R")), must(s.Nomogram("R/R"))} {
			root := parse(t, svg)
			if root.below[0].name != "title" || root.below[1].name != "desc" || len(root.below[1].text) < 60 || root.attr["role"] != "img" {
				t.Errorf("%s: title or description is missing", u.ID)
			}
			if root.attr["aria-labelledby"] != root.below[0].attr["id"]+" "+root.below[1].attr["id"] {
				t.Errorf("%s: title and description are not named", u.ID)
			}
			root.walk(func(it *item) {
				for a := range it.attr {
					if a == "style" || a == "href" || a == "src" || strings.HasPrefix(a, "on") {
						t.Errorf("%s: <%s %s>", u.ID, it.name, a)
					}
				}
			})
		}
	}
}
