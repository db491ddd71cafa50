package wording_test

import (
	"errors"
	"testing"

	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/advise"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/engine/refine"
	"slipcase/engine/refine/rulepath"
	"slipcase/engine/teardown"
	"slipcase/engine/teardown/order"
)

func TestPercent(t *testing.T) {
	for _, x := range []struct {
		p    float64
		want string
	}{
		{1, "over 99%"}, {0.995, "over 99%"}, {0.9949, "99%"}, {0.0995, "10%"}, {0.0994, "9.9%"}, {0.001, "0.1%"}, {0.00099, "under 0.1%"}, {0, "under 0.1%"},
	} {
		if got := wording.Percent(x.p); got != x.want {
			t.Errorf("%v is %q, want %q", x.p, got, x.want)
		}
	}
}

var (
	servo  = &engine.Component{Name: "od_servo", Title: "overdrive servo"}
	cooler = &engine.Component{Name: "cooler_line"} // no title: its name is told
	cut    = &engine.Mode{Name: "cut", Title: "seal cut"}
)

func TestGist(t *testing.T) {
	lead := diagnose.Blame{Component: servo, Mode: cut, P: 0.82}
	out := diagnose.Blame{Component: cooler, Mode: cut, P: 0.05, Outside: true}
	said := []model.Piece{{About: &model.Node{Title: "slips in D/4"}}, {About: &model.Node{Title: "flares 3-4"}}, {About: &model.Node{Title: "burnt smell"}}}
	cause := &diagnose.CauseBelief{Cause: &engine.Cause{Name: "high_mileage"}, P: 0.2}
	for _, x := range []struct {
		gist diagnose.Gist
		want string
	}{
		{diagnose.Gist{}, "The unit has no component that the rules can blame."},
		{diagnose.Gist{Lead: lead}, "Nothing is reported present yet; before any report: overdrive servo (82%; seal cut). The pan will not show it. Nothing outside the transmission that the rules know causes this."},
		{diagnose.Gist{Lead: lead, Complaint: said, InPan: true, Elsewhere: &out}, "Slips in D/4, flares 3-4 and burnt smell: overdrive servo (82%; seal cut). The pan should show it. Outside the transmission, rule out cooler line (seal cut 5.0%)."},
		{diagnose.Gist{Lead: lead, Complaint: said[:1], Rival: &out, Cause: cause}, "Slips in D/4: overdrive servo (82%; seal cut), or cooler line (5.0%; seal cut). The pan will not show it. The second of them is outside the transmission."},
		{diagnose.Gist{Lead: lead, Complaint: said[:1], Cause: cause}, "Slips in D/4: overdrive servo (82%; seal cut). The pan will not show it. No part outside the transmission causes this; of the root causes, settle high mileage (20%)."},
		{diagnose.Gist{Lead: lead, Complaint: said[:1], Unmet: said[1:], InPan: true, Elsewhere: &out}, "Slips in D/4: overdrive servo (82%; seal cut). Not explained by that: flares 3-4 and burnt smell. The pan should show it. Outside the transmission, rule out cooler line (seal cut 5.0%)."},
		{diagnose.Gist{Lead: out, Complaint: said[:2], Rival: &lead, Both: true}, "Slips in D/4 and flares 3-4: cooler line (5.0%; seal cut), and overdrive servo (82%; seal cut). The first of them is outside the transmission."},
		{diagnose.Gist{Lead: out, Complaint: said[:1], Rival: &lead, Elsewhere: &lead}, "Slips in D/4: cooler line (5.0%; seal cut), or overdrive servo (82%; seal cut). The first of them is outside the transmission."},
		{diagnose.Gist{Lead: out, Complaint: said[:1], Elsewhere: &lead}, "Slips in D/4: cooler line (5.0%; seal cut). That is outside the transmission; inside it, the likeliest is overdrive servo (seal cut 82%)."},
	} {
		if got := wording.Gist(x.gist); got != x.want {
			t.Errorf("%s\nwant %s", got, x.want)
		}
	}
}

func TestDecision(t *testing.T) {
	pull := &engine.Step{Name: "pull", Title: "take it out"}
	look, pan, mount := &engine.Step{Name: "servo_off"}, &engine.Step{Name: "pan_off", Title: "pan off"}, &engine.Step{Name: "mount"}
	found := []teardown.Confirmed{{Component: servo, Mode: cut}}
	for _, x := range []struct {
		d    teardown.Decision
		want string
	}{
		{teardown.Decision{Pulled: true}, "No step of this unit takes it out of the vehicle."},
		{teardown.Decision{Pulled: true, Pull: pull}, "The unit is out."},
		{teardown.Decision{Pull: pull, Enough: true, Found: found, Repair: 15, Another: 0.3}, "Do not pull it: repair the overdrive servo where it is and test it, about 15 minutes with refit; 30% chance that another fault is needed to explain the reports."},
		{teardown.Decision{Pull: pull, Justified: true, PullNow: 380}, "Pull it: nothing reported points to a part that the vehicle shows; about 380 minutes until the repair is done."},
		{teardown.Decision{Pull: pull, Instead: []*engine.Step{look}, PullNow: 366.25, InVehicle: 192.4, OnlyBench: 0.3}, "Do not pull it yet: pulling now, the repair is done in about 366 minutes; with servo off first, in about 192; 30% chance that something failed that only shows on the bench."},
		{teardown.Decision{Pull: pull, Justified: true, Instead: []*engine.Step{look, pan, mount}, Looks: []*engine.Step{look, pan}, LookTime: 25, PullNow: 100, InVehicle: 120, OnlyBench: 0.9}, "Pull it after servo off and pan off (25 minutes): 90% chance that something failed that only shows on the bench; pulling now, the repair is done in about 100 minutes; with 3 looks in the vehicle first, in about 120."},
	} {
		if got := wording.Decision(x.d); got != x.want {
			t.Errorf("%s\nwant %s", got, x.want)
		}
	}
}

func TestTeardown(t *testing.T) {
	if got := wording.Unsettled([]teardown.Confirmed{{Component: servo, Mode: cut, Lead: true, Causes: []string{"rough bore"}}, {Component: servo, Mode: cut}}); got != "" {
		t.Errorf("all is settled, yet: %s", got)
	}
	open := []teardown.Confirmed{{Component: servo, Mode: cut, Lead: true}}
	if got, want := wording.Unsettled(open), "It is not settled why this failed: overdrive servo (seal cut). A build now may come back for the same reason: settle one of the open causes first."; got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
	for want, r := range map[string]teardown.Related{
		"shares oil or an element with the overdrive servo":           {Relation: teardown.SharesOil, From: servo},
		"what the overdrive servo shed ends up there: filter clogged": {Relation: teardown.Debris, From: servo, Sign: &model.Node{Title: "filter clogged"}},
		"debris from the overdrive servo went through it: flush it":   {Relation: teardown.Debris, From: servo, Clean: "flush it"},
		"the overdrive servo can cause it: seal cut":                  {Relation: teardown.CausedBy, From: servo, Mode: cut},
	} {
		if got := wording.Related(r); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	for want, m := range map[string]order.Method{
		"nothing to order": {},
		"Horn's rule on 1 job; Horn's rule backwards on 2 jobs":                                                                                       {Trees: 1, Reversed: 2},
		"Sidney decomposition of 9 jobs into 1 module, largest 9; dynamic programming over 1 ideal; local search on 3 jobs":                           {General: 9, Modules: 1, Largest: 9, Ideals: 1, Searched: 3},
		"Sidney decomposition of 9 jobs into 1 module, largest 9; dynamic programming over 1 ideal; local search on 3 jobs, proven best by its bound": {General: 9, Modules: 1, Largest: 9, Ideals: 1, Searched: 3, Proven: true},
	} {
		if got := wording.Ordering(m); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}

func TestRefusal(t *testing.T) {
	pan := &engine.Step{Name: "pan_off", Title: "pan off"}
	for want, r := range map[string]advise.Refusal{
		"line pressure is low":                                            {Why: advise.RuledOut, Rule: "line pressure is low"},
		"no answer would change a suspect or the plan":                    {Why: advise.Pointless},
		"too many findings depend on each other to work this out exactly": {Why: advise.TooMuch},
		"too late: pan off destroyed the evidence":                        {Why: advise.TooLate, Step: pan},
		"first do: pan off":                                               {Why: advise.NeedsStep, Step: pan},
		"the vehicle cannot run: pan off is done":                         {Why: advise.CannotRun, Step: pan},
		"the unit is out of the vehicle":                                  {Why: advise.UnitOut},
		"the unit is still in the vehicle":                                {Why: advise.UnitInside},
		"the driver was asked already":                                    {Why: advise.Asked},
	} {
		if got := wording.Refusal(r); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}

func TestLearn(t *testing.T) {
	for want, k := range map[string]refine.Kept{
		"no case says anything about it":                                                   {Why: refine.NoCase},
		"9.5 trials are few against a prior of 50":                                         {Why: refine.TooFew, Trials: 9.5, Prior: 50},
		"hardly any of 12 trials was observed: they are inferred from other reports":       {Why: refine.Unseen, Trials: 12},
		"the cases cannot tell it from: worn pump":                                         {Why: refine.NotIdentifiable},
		"the cases do not rule it out: it lies within the 90% interval":                    {Why: refine.Allowed},
		"the cases agree with it":                                                          {Why: refine.Confirmed},
		"nothing was noted about it, which agrees with it":                                 {Why: refine.Confirmed, Silent: true},
		"almost nothing but what was there was noted, which does not show how often it is": {Why: refine.OneSided},
		"it was there 12 times, but whether this followed was hardly ever observed itself": {Why: refine.Unseen, Trials: 12, Path: rulepath.Path{Argument: "strength"}},
		"it lies outside its 90% interval, but among so many numbers some do by chance":    {Why: refine.Chance},
	} {
		if got := wording.Kept(k, "worn pump"); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	for want, s := range map[string]refine.Skipped{
		"its id appears twice":                                                             {Why: refine.Twice},
		"not closed as fixed or as a comeback":                                             {Why: refine.Unconfirmed},
		"nothing was found or cleared":                                                     {Why: refine.NothingSeen},
		"its unit old-3 is not loaded":                                                     {Why: refine.NotLoaded, Unit: "old-3"},
		"it names what the rules do not know: unknown finding \"slip\"":                    {Why: refine.Unknown, Problem: &model.Problem{Kind: model.UnknownFinding, Name: "slip"}},
		"it is impossible under these rules: what was found contradicts what was reported": {Why: refine.Impossible},
		"out of memory": {Why: refine.Failed, Err: errors.New("out of memory")},
	} {
		if got := wording.Skipped(s); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}
