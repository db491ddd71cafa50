package teardown

import (
	"context"
	"errors"
	"slices"
	"testing"

	"slipcase/engine"
	"slipcase/engine/internal/patience"
	"slipcase/engine/model"
	"slipcase/engine/network"
	"slipcase/internal/size"
)

// Where repairing what was found and taking it off again cost the same in the
// mean, it is repaired: the unit stays in the vehicle for nothing worse.
func TestEnoughWhenEven(t *testing.T) {
	rest, unit := "", ""
	for _, name := range []string{"servo", "clutch"} {
		unit += "  component \"" + name + "\" {\n    title = \"" + name + "\"\n    kind = " + name + "\n    serves = unit\n  }\n"
		rest += "kind \"" + name + "\" {\n  title = \"" + name + "\"\n}\nmode \"" + name + "_bad\" {\n  title = \"bad\"\n  of = [" + name + "]\n  frequency = 0.5\n}\n"
	}
	unit += `  step "servo_off" {
    title   = "servo off"
    stage   = in_vehicle
    minutes = 20
    refit   = 20
    repair  = 5
    exposes = ["servo"]
  }
  step "pull" {
    title   = "take it out"
    stage   = pulled
    pulls   = true
    minutes = 25
    refit   = 15
  }
  step "pack_open" {
    title   = "pack open"
    stage   = teardown
    after   = ["pull"]
    minutes = 30
    exposes = ["clutch"]
  }
`
	m := loadSmall(t, unit, rest)
	bad := &engine.CaseFile{Unit: "small", Done: []string{"servo_off"}, Seen: []engine.Seen{{Component: "servo", Mode: "servo_bad"}}}
	for _, x := range []struct {
		another float64
		enough  bool
	}{{0.49, true}, {0.5, true}, {0.51, false}, {0.9, false}} {
		d := Decision{Another: x.another, Pull: m.Step("pull"), Justified: true}
		if d.enough(m, bad); d.Enough != x.enough {
			t.Errorf("another with %v: enough %v", x.another, d.Enough)
		}
	}
}

// What to look at as well comes with the likeliest part first.
func TestLookIsSorted(t *testing.T) {
	longest := 0
	all := []struct{ demo, component, mode string }{
		{"slip-one-gear", "overdrive_servo", "servo_seal_cut"}, {"two-faults", "lockup_clutch", "lockup_glazed"},
		{"two-faults", "low_roller", "roller_spent"}, {"burnt-clutch-cause-elsewhere", "forward_frictions", "burnt_friction"},
	}
	for _, x := range size.Of(all[2:], all, all) {
		m, c := demo(t, x.demo)
		c.Seen = []engine.Seen{{Component: x.component, Mode: x.mode}}
		p, _ := planned(t, m, c)
		if p.After == nil {
			t.Fatalf("%s: nothing is said of what was found", x.demo)
		}
		longest = max(longest, len(p.After.Look))
		if !slices.IsSortedFunc(p.After.Look, func(a, b Related) int {
			switch {
			case a.P > b.P+1e-9:
				return -1
			case a.P < b.P-1e-9:
				return 1
			}
			return 0
		}) {
			t.Errorf("%s: %+v", x.demo, p.After.Look)
		}
	}
	if longest < 3 {
		t.Errorf("at most %d parts are to be looked at: their order is hardly tried", longest)
	}
}

// A mode consists of what it shows with 95% and more.
func TestCarriesWhatIsSure(t *testing.T) {
	for strength, want := range map[float64]string{0.94: "", 0.95: "lining in the filter", 1: "lining in the filter"} {
		m := &model.Model{
			Nodes: []model.Node{{}, {Title: "lining in the filter"}, {Title: "other"}},
			Net:   &network.Net{Nodes: []network.Node{{}, {Links: []network.Link{{Parent: 0, Strength: strength}}}, {Links: []network.Link{{Parent: 0, Strength: 1}}}}},
		}
		got := ""
		if n := carries(m, 0, map[int]bool{1: true}); n != nil {
			got = n.Title
		}
		if got != want {
			t.Errorf("shown with %v: %q, want %q", strength, got, want)
		}
	}
}

// Whenever the asker gives up, that is the answer, or the whole plan.
func TestGivingUpPlan(t *testing.T) {
	m, c := demo(t, "slip-one-gear")
	whole, r := planned(t, m, c)
	ended := 0
	for n := int64(0); ; n += 1 + n/8 {
		own := m.WithContext(patience.New(n))
		p, err := Make(own, c, r)
		if err == nil {
			if p.Expected != whole.Expected || p.Pull.PullNow != whole.Pull.PullNow || p.Pull.Another != whole.Pull.Another || len(p.Steps) != len(whole.Steps) {
				t.Errorf("after %d looks: expected %v, whole %v", n, p.Expected, whole.Expected)
			}
			break
		}
		if !errors.Is(err, context.Canceled) {
			t.Fatalf("after %d looks: %v", n, err)
		}
		ended++
	}
	if ended < 5 {
		t.Errorf("only %d were ended", ended)
	}
}
