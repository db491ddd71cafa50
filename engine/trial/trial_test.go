package trial_test

import (
	"context"
	"encoding/json"
	"errors"
	"math/rand/v2"
	"os"
	"reflect"
	"sync"
	"testing"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/trial"
	"slipcase/internal/size"
	"slipcase/rules"
	"slipcase/rules/diag"
)

func modelOf(t testing.TB, unit string) *model.Model {
	t.Helper()
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: os.DirFS("../../knowledge")}}, Unit: unit})
	if diag.HasErrors(diags) {
		t.Fatal(diags)
	}
	m, err := model.Build(k, k.Unit(unit))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// A vehicle comes in for one symptom that is there, that a fault has brought
// about, and that driver and first drive report. It is drawn once, however many
// symptoms it has: the share of vehicles with many is that among all vehicles that
// may come in, drawn here without the package.
func TestVehicles(t *testing.T) {
	m := modelOf(t, "harrow-3")
	s := trial.NewVehicles(m)
	symptoms := func(on func(int) bool) (n float64) {
		for _, i := range m.Complaints() {
			if on(i) {
				n++
			}
		}
		return n
	}
	n := size.Of(300, 1500, 1500)
	drawn := 0.0
	for i := range uint64(n) {
		v, err := s.Draw(3, i)
		if err != nil || v == nil {
			t.Fatal(v, err)
		}
		if o := v.Opening(); len(o) != 2 || o[0].State != engine.Present || v.Say(o[1].Finding, o[1].By) != engine.Present {
			t.Fatalf("vehicle %d comes in for %v", i, v.Opening())
		}
		mode := false
		for _, b := range v.Behind() {
			mode = mode || m.Nodes[b].Layer == model.ModeLayer
			if !v.On(b) {
				t.Fatalf("vehicle %d: %s is behind it and not there", i, m.Nodes[b].Name)
			}
		}
		if !mode {
			t.Fatalf("vehicle %d: no fault is behind it", i)
		}
		drawn += symptoms(v.On) / float64(n)
	}
	// Weighed once each, and with each symptom's chance of being stated.
	rng := rand.New(rand.NewPCG(9, 9))
	var all, once, often float64 // sums of weights
	var on []bool
	for range size.Of(4_000, 20_000, 20_000) {
		on = trial.Sample(m.Net, rng, on)
		if k := symptoms(func(i int) bool { return on[i] }); k > 0 {
			// P(none of k is stated and confirmed), as if each were .8.
			miss := 1.0
			for range int(k) {
				miss *= 0.2
			}
			once += 1 - miss
			all += k * (1 - miss)
			often += k * k
		}
	}
	want, twenty := all/once, often/all
	t.Logf("%.2f symptoms of a vehicle; once each gives some %.2f, once for each symptom %.2f", drawn, want, twenty)
	if drawn > (want+twenty)/2 || drawn < 0.8*want {
		t.Errorf("%.2f symptoms of a vehicle; once each gives some %.2f, once for each symptom %.2f", drawn, want, twenty)
	}
}

var quick = trial.Options{Cases: 4, Seed: 4, Marks: []float64{3}} // vehicles that are soon played

// Same seed, same report, whatever the number of goroutines; and whether it ran
// through or was stopped, kept as JSON, and went on.
func TestSame(t *testing.T) {
	m := modelOf(t, "harrow-3")
	opt := quick
	opt.Workers = 1
	var mu sync.Mutex
	kept := map[int][]byte{}
	ctx, cancel := context.WithCancel(context.Background())
	opt.Done = func(i int, o *trial.Outcome) error {
		text, err := json.Marshal(o)
		mu.Lock()
		defer mu.Unlock()
		if kept[i] = text; len(kept) == 2 {
			cancel()
		}
		return err
	}
	if _, err := trial.Run(m.WithContext(ctx), opt); !errors.Is(err, context.Canceled) || len(kept) != 2 {
		t.Fatalf("stopped after two vehicles it says %v; %d kept", err, len(kept))
	}
	opt.Workers, opt.Done = 3, nil
	through, err := trial.Run(m, opt)
	if err != nil {
		t.Fatal(err)
	}
	opt.Workers = 1
	done := 0
	opt.Known = func(i int) *trial.Outcome {
		var o *trial.Outcome
		if text := kept[i]; text != nil {
			if err := json.Unmarshal(text, &o); err != nil {
				t.Error(err)
			}
		}
		return o
	}
	opt.Done = func(int, *trial.Outcome) error { done++; return nil }
	resumed, err := trial.Run(m, opt)
	if err != nil {
		t.Fatal(err)
	}
	if done != 2 || !reflect.DeepEqual(through, resumed) {
		t.Errorf("%d vehicles were played again; through:\n%+v\nresumed:\n%+v", done, through, resumed)
	}
}

// Vehicles of the small unit, twelve in a short run and thirty else: the advised
// checks find more culprits than plainer ways on the same reports.
func TestTrial(t *testing.T) {
	n := size.Of(8, 30, 30)
	r, err := trial.Run(modelOf(t, "harrow-3"), trial.Options{Cases: n, Seed: 2, Marks: []float64{5},
		Ways: []trial.Way{trial.Advised, trial.Fixed, trial.PaperChart, trial.Matches}})
	if err != nil {
		t.Fatal(err)
	}
	by := map[trial.Way]trial.Score{}
	for _, w := range r.Ways {
		by[w.Way] = w
		t.Logf("%-12s caused %v, failed %v, element %v, step %v", w.Way, w.Right[0], w.Right[1], w.Right[2], w.Right[3])
	}
	if r.Cases != n {
		t.Errorf("%d vehicles", r.Cases)
	}
	a := by[trial.Advised].Right
	if caused := a[0][0]; caused.First < n*3/10 || caused.Three < n*6/10 || caused.First <= by[trial.Matches].Right[0][0].First {
		t.Errorf("as advised %+v, matching symptoms %+v", caused, by[trial.Matches].Right[0][0])
	}
	if a[2][0].First <= by[trial.PaperChart].Right[2][0].First || by[trial.PaperChart].Right[0][0].Says {
		t.Errorf("elements: as advised %+v, paper chart %+v", a[2][0], by[trial.PaperChart].Right)
	}
	for k := range a[0] {
		if a[0][k].First > a[1][k].First || a[0][k].First > a[3][k].First {
			t.Errorf("moment %d: what caused it has failed, and its step shows it: %+v", k, a)
		}
	}
}

// What is said is as often right as said, with all that driver and pan tell, of
// vehicles with a complaint; 60 or 150 can fail by a gross fault only, 4,000 with
// SLIPCASE_LONG=1 by more than .03, which is aimed at.
func TestCalibration(t *testing.T) {
	n, most := size.Of(40, 150, 4000), size.Of(0.2, 0.15, 0.03)
	r, err := trial.Run(modelOf(t, "harrow-3"), trial.Options{Cases: n, Seed: 7, OnlyCalibration: true})
	if err != nil {
		t.Fatal(err)
	}
	l, s := r.Leader[0], r.Shown[0]
	t.Logf("%d vehicles: first off by %.3f (%.3f to %.3f, chance %.3f), shown %.3f (%.3f to %.3f, chance %.3f)", r.Cases, l.Error, l.Low, l.High, l.Chance, s.Error, s.Low, s.High, s.Chance)
	if l.Error > most || s.Error > most || l.Said != n {
		t.Errorf("calibration error %.3f of %d, %.3f of all shown", l.Error, l.Said, s.Error)
	}
}
