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
	"strconv"
	"strings"
	"testing"

	"slipcase/engine"
	"slipcase/engine/geartrain"
	"slipcase/knowledge"
	"slipcase/rules"
)

var update = flag.Bool("update", false, "write the golden pictures")

func units(t *testing.T) []*engine.Unit {
	t.Helper()
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "built in", FS: knowledge.FS}}, NoExamples: true})
	if rules.HasErrors(diags) || len(k.Units) < 8 {
		t.Fatal(len(k.Units), diags)
	}
	return k.Units
}

// node is an element of a picture.
type node struct {
	name  string
	attrs map[string]string
	text  string
}

// read parses a picture; it fails on what is no XML.
func read(t *testing.T, svg []byte) []node {
	t.Helper()
	var out []node
	for d := xml.NewDecoder(bytes.NewReader(svg)); ; {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatalf("%v in\n%s", err, svg)
		}
		switch x := tok.(type) {
		case xml.StartElement:
			n := node{name: x.Name.Local, attrs: map[string]string{}}
			for _, a := range x.Attr {
				n.attrs[a.Name.Local] = a.Value
			}
			out = append(out, n)
		case xml.CharData:
			if len(out) > 0 {
				out[len(out)-1].text += string(x)
			}
		}
	}
}

func number(t *testing.T, n node, attr string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(n.attrs[attr], 64)
	if err != nil {
		t.Fatalf("%s %s: %v", n.name, attr, err)
	}
	return f
}

// In every unit, row and fault that shows: each point of the speed diagram
// stands where the exact speed belongs, between the lines of 0 and 1, and the
// points of one row lie on one straight line in each gearset.
func TestSpeedsAreToScale(t *testing.T) {
	points := 0
	for _, u := range units(t) {
		m, err := geartrain.New(u)
		if err != nil {
			t.Fatal(err)
		}
		for _, faults := range [][]geartrain.Fault{nil, {{Name: u.Elements[0].Name, Kind: geartrain.Dead}}} {
			for row := range m.Rows() {
				list := read(t, Speeds(u, m, []int{row}, faults...))
				zero, one := math.NaN(), math.NaN()
				for _, n := range list {
					if n.name == "line" && n.attrs["data-speed"] == "0" {
						zero = number(t, n, "y1")
					}
					if n.name == "line" && n.attrs["data-speed"] == "1" {
						one = number(t, n, "y1")
					}
				}
				state := m.Under(row, faults...)
				seen := map[string]bool{}
				for _, n := range list {
					if n.name != "circle" {
						continue
					}
					points++
					member := n.attrs["data-member"]
					seen[member] = true
					want := state.Speeds[member]
					if want == nil || want.RatString() != n.attrs["data-speed"] {
						t.Errorf("%s %s: %s says %s, the train %v", u.ID, m.RowName(row), member, n.attrs["data-speed"], want)
						continue
					}
					f, _ := want.Float64()
					if y := zero + f*(one-zero); math.Abs(y-number(t, n, "cy")) > 0.02 { // pixels; lengths have two decimals
						t.Errorf("%s %s: %s stands at %s, want %.2f", u.ID, m.RowName(row), member, n.attrs["cy"], y)
					}
				}
				for _, g := range u.Train.Gearsets {
					for _, member := range []string{g.Sun, g.Carrier, g.Ring} {
						if state.Speeds[member] != nil && !seen[member] {
							t.Errorf("%s %s: no point for %s", u.ID, m.RowName(row), member)
						}
					}
				}
			}
		}
	}
	if points < 500 {
		t.Errorf("only %d points", points)
	}
}

// Whatever speeds meet the equation of each gearset lie on its lever: the places
// of the axes are right.
func TestLeversAreStraight(t *testing.T) {
	for _, u := range units(t) {
		m, err := geartrain.New(u)
		if err != nil {
			t.Fatal(err)
		}
		for row := range m.Rows() {
			speeds := m.Row(row).Speeds
			for _, l := range levers(&u.Train) {
				var known []axis
				for _, a := range l.axes {
					if speeds[a.member] != nil {
						known = append(known, a)
					}
				}
				for i := 2; i < len(known); i++ {
					a, b, c := known[i-2], known[i-1], known[i]
					sub := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Sub(x, y) }
					left := new(big.Rat).Mul(sub(speeds[b.member], speeds[a.member]), sub(c.at, b.at))
					right := new(big.Rat).Mul(sub(speeds[c.member], speeds[b.member]), sub(b.at, a.at))
					if left.Cmp(right) != 0 {
						t.Errorf("%s %s: %s, %s and %s are not on a line", u.ID, m.RowName(row), a.member, b.member, c.member)
					}
				}
			}
		}
	}
}

// The power flow names every member with its speed, and every element with what
// it does, in all rows of all units.
func TestFlowSaysAll(t *testing.T) {
	for _, u := range units(t) {
		m, err := geartrain.New(u)
		if err != nil {
			t.Fatal(err)
		}
		for row := range m.Rows() {
			list := read(t, Flow(u, m, row))
			var all string
			said := map[string]string{}
			for _, n := range list {
				all += n.text + "\n"
				if n.attrs["data-member"] != "" {
					said[n.attrs["data-member"]] = n.attrs["data-speed"]
				}
			}
			for _, member := range m.Members() {
				if member == engine.CaseMember {
					continue
				}
				want := ""
				if s := m.Row(row).Speeds[member]; s != nil {
					want = s.RatString()
				}
				if got, ok := said[member]; !ok || got != want {
					t.Errorf("%s %s: %s is said to turn at %q, want %q", u.ID, m.RowName(row), member, got, want)
				}
			}
			for _, e := range m.Row(row).Holding {
				if !strings.Contains(all, plain(e)+" holds") {
					t.Errorf("%s %s: it is not said that %s holds", u.ID, m.RowName(row), e)
				}
			}
			for _, e := range u.Rows[row].Apply {
				if k := kind(u, e); k != engine.ConverterClutch && k != engine.OneWay && !strings.Contains(all, plain(e)+" applied") {
					t.Errorf("%s %s: it is not said that %s is applied", u.ID, m.RowName(row), e)
				}
			}
		}
	}
}

func kind(u *engine.Unit, name string) engine.ElementKind {
	for _, e := range u.Elements {
		if e.Name == name {
			return e.Kind
		}
	}
	return ""
}

// Names of a stranger's unit file stay text.
func TestNamesAreEscaped(t *testing.T) {
	for _, u := range units(t)[:1] {
		odd := *u
		odd.Title = `<script>alert("&")</script>`
		m, err := geartrain.New(&odd)
		if err != nil {
			t.Fatal(err)
		}
		for _, svg := range [][]byte{Flow(&odd, m, 2), Speeds(&odd, m, []int{2})} {
			read(t, svg)
			if bytes.Contains(svg, []byte("<script")) {
				t.Error("a title became an element")
			}
		}
	}
}

func TestGolden(t *testing.T) {
	for _, u := range units(t) {
		if u.ID != "northfork-4" {
			continue
		}
		m, err := geartrain.New(u)
		if err != nil {
			t.Fatal(err)
		}
		row := m.RowIndex("D/3")
		all := make([]int, m.Rows())
		for i := range all {
			all[i] = i
		}
		for name, svg := range map[string][]byte{
			"northfork-4-flow-D3.svg":      Flow(u, m, row),
			"northfork-4-flow-D3-dead.svg": Flow(u, m, row, geartrain.Fault{Name: "forward", Kind: geartrain.Dead}),
			"northfork-4-speeds.svg":       Speeds(u, m, all),
		} {
			path := filepath.Join("testdata", name)
			if *update {
				if os.Getenv("CI") != "" {
					t.Fatal("-update in CI")
				}
				if err := os.WriteFile(path, svg, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(want, svg) {
				t.Errorf("%s is drawn otherwise; look at it, then run with -update", name)
			}
		}
	}
}
