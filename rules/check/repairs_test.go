package check_test

import (
	"fmt"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"slipcase/engine"
	"slipcase/engine/geartrain"
	"slipcase/internal/size"
	"slipcase/knowledge"
	"slipcase/rules"
)

// shownRepairs is how many sets of changes `check` shows of a wrong chart.
const shownRepairs = 4

// TestWrongCharts spoils the chart of every built-in unit by slips of the pen,
// one or two, drawn by a fixed seed, and looks whether what was spoilt is among
// the changes that are shown. What a slip does not change (an element applied
// beside others that hold as well) is drawn again: such a chart agrees.
func TestWrongCharts(t *testing.T) {
	k, diags := rules.Load(rules.Options{NoExamples: true, Layers: []rules.Layer{{Name: "knowledge", FS: knowledge.FS}}})
	if len(diags) > 0 {
		t.Fatal(diags)
	}
	rng := rand.New(rand.NewPCG(12, 2026))
	type count struct{ shown, of int }
	total := map[int]count{}
	half := size.Of(true, false, false) // of the units, in an ordinary run
	for i, u := range k.Units {
		if half && i%2 == 1 {
			continue
		}
		for n, errors := range []int{1, 1, 1, 1, 1, 2, 2, 2} {
			v, truth := u, []geartrain.Edit{}
			for range 200 {
				v, truth = spoilt(u, errors, rng)
				if len(truth) == errors && needed(v, truth) {
					break
				}
			}
			sets := geartrain.Repairs(v, shownRepairs+1)
			sets = sets[:min(len(sets), shownRepairs)]
			c := total[errors]
			c.of++
			if slices.ContainsFunc(sets, func(s []geartrain.Edit) bool { return sameEdits(s, truth) }) {
				c.shown++
			} else {
				t.Logf("%s %d: to mend %v, shown %v", u.ID, n, truth, sets)
			}
			total[errors] = c
		}
	}
	for _, errors := range []int{1, 2} {
		c := total[errors]
		t.Logf("%d slips of the pen: %d of %d mended by what is shown", errors, c.shown, c.of)
	}
	// Found on 2026-11-26: 49 and 30. Two tooth counts may print the same table.
	all := 10
	if half {
		all = 5
	}
	if one, two := total[1], total[2]; one.shown < 5*all-2 || two.shown < 3*all-2 || one.of != 5*all || two.of != 3*all {
		t.Errorf("one slip %v, two %v", one, two)
	}
}

// needed tells whether the chart is wrong by every one of the slips: mended of
// all it agrees, and of all but one it does not.
func needed(v *engine.Unit, truth []geartrain.Edit) bool {
	agrees := func(without int) bool {
		w := v
		for i, e := range truth {
			if i != without {
				w = geartrain.Edited(w, e)
			}
		}
		m, err := geartrain.New(w)
		return err == nil && len(m.Disagree()) == 0
	}
	for i := range truth {
		if agrees(i) {
			return false
		}
	}
	return agrees(-1)
}

// spoilt is a unit with slips of the pen, each in another row or in the train,
// and the edits that mend them: an element left out, one too many or another,
// two rows on each other's line, a digit of a ratio, a one-way clutch turned,
// sun and ring exchanged, single for double, a digit of a tooth count.
func spoilt(u *engine.Unit, errors int, rng *rand.Rand) (*engine.Unit, []geartrain.Edit) {
	v := *u
	v.Rows, v.Elements = slices.Clone(u.Rows), slices.Clone(u.Elements)
	v.Train.Gearsets = slices.Clone(u.Train.Gearsets)
	var truth []geartrain.Edit
	rows := rng.Perm(len(v.Rows))
	train := false
	for len(truth) < errors && len(rows) > 1 {
		r := &v.Rows[rows[0]]
		var free []string
		for _, e := range v.Elements {
			if e.Kind != engine.OneWay && e.Kind != engine.ConverterClutch && !slices.Contains(r.Apply, e.Name) {
				free = append(free, e.Name)
			}
		}
		drives := r.Gear != "P" && r.Gear != "N"
		switch kind := rng.IntN(9); {
		case kind == 0 && drives && len(r.Apply) > 0:
			e := r.Apply[rng.IntN(len(r.Apply))]
			r.Apply = slices.DeleteFunc(slices.Clone(r.Apply), func(s string) bool { return s == e })
			truth = append(truth, geartrain.Edit{Kind: geartrain.EditApply, Row: r.Name(), Name: e})
		case kind == 1 && len(free) > 0:
			e := free[rng.IntN(len(free))]
			r.Apply = append(slices.Clone(r.Apply), e)
			truth = append(truth, geartrain.Edit{Kind: geartrain.EditRelease, Row: r.Name(), Name: e})
		case kind == 2 && drives && len(free) > 0 && len(r.Apply) > 0:
			at, e := rng.IntN(len(r.Apply)), free[rng.IntN(len(free))]
			was := r.Apply[at]
			r.Apply = slices.Clone(r.Apply)
			r.Apply[at] = e
			truth = append(truth, geartrain.Edit{Kind: geartrain.EditReplace, Row: r.Name(), Name: e, With: was})
		case kind == 3 && errors == 1 && drives:
			o := &v.Rows[rows[1]]
			if o.Range != r.Range {
				break
			}
			r.Apply, o.Apply = o.Apply, r.Apply
			a, b := r.Name(), o.Name()
			if rows[0] > rows[1] {
				a, b = b, a
			}
			truth = append(truth, geartrain.Edit{Kind: geartrain.EditExchange, Row: a, With: b})
		case kind == 4 && r.Ratio != nil:
			digits := []byte(r.RatioText)
			at := rng.IntN(len(digits))
			if digits[at] < '0' || digits[at] > '9' {
				break
			}
			digits[at] = '0' + (digits[at]-'0'+byte(1+rng.IntN(9)))%10
			was := r.RatioText
			r.RatioText = string(digits)
			r.Ratio, _ = new(big.Rat).SetString(r.RatioText)
			if r.Ratio.Sign() == 0 {
				return &v, nil
			}
			truth = append(truth, geartrain.Edit{Kind: geartrain.EditRatio, Row: r.Name(), Got: []string{was}})
		case kind >= 5 && !train:
			g := &v.Train.Gearsets[rng.IntN(len(v.Train.Gearsets))]
			e := &v.Elements[rng.IntN(len(v.Elements))]
			train = true
			switch {
			case kind == 5 && e.Kind == engine.OneWay:
				e.A, e.B = e.B, e.A
				truth = append(truth, geartrain.Edit{Kind: geartrain.EditTurn, Name: e.Name})
			case kind == 6:
				g.Sun, g.Ring = g.Ring, g.Sun
				truth = append(truth, geartrain.Edit{Kind: geartrain.EditSwap, Name: g.Name})
			case kind == 7:
				if g.Kind == engine.Single {
					g.Kind = engine.Double
				} else {
					g.Kind = engine.Single
				}
				truth = append(truth, geartrain.Edit{Kind: geartrain.EditPinions, Name: g.Name})
			case kind == 8:
				was := []string{fmt.Sprint(g.SunTeeth), fmt.Sprint(g.RingTeeth)}
				g.SunTeeth += int64(rng.IntN(19) - 9)
				truth = append(truth, geartrain.Edit{Kind: geartrain.EditTeeth, Name: g.Name, Got: was})
			default:
				train = false
			}
		default:
			rows = append(rows[1:], rows[0])
			continue
		}
		rows = rows[1:]
	}
	return &v, truth
}

func sameEdits(a, b []geartrain.Edit) bool {
	key := func(l []geartrain.Edit) []string {
		var out []string
		for _, e := range l {
			got := ""
			if e.Kind == geartrain.EditRatio || e.Kind == geartrain.EditTeeth {
				got = fmt.Sprint(e.Got)
			}
			out = append(out, fmt.Sprint(e.Kind, e.Row, e.Name, e.With, got))
		}
		slices.Sort(out)
		return out
	}
	return slices.Equal(key(a), key(b))
}
