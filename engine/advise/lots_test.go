package advise

import (
	"reflect"
	"testing"

	"slipcase/engine/diagnose"
)

// Checks that share a tree get the figures that each gets on one of its own, and
// those that hang on other nodes get another tree.
func TestDemoLots(t *testing.T) {
	t.Parallel()
	a, c, opt := demoAdviser(t), slipsInThird(), Options{}.filled()
	b, k, pieces, err := a.begin(c, opt)
	if err != nil {
		t.Fatal(err)
	}
	defer b.site.free()
	if k, err = k.fork(); err != nil {
		t.Fatal(err)
	}
	open, _, _ := a.offer(c, pieces, opt)
	list := func() (out []*candidate) {
		for _, o := range open {
			x := b.candidate(o, opt.Exact)
			if x.site != b.site {
				continue
			}
			if x.many = x.site.behind(x.nodes); x.many != nil {
				out = append(out, x)
			}
		}
		return out
	}
	together, alone := list(), list()
	several := 0
	for _, l := range b.lots(together) {
		if len(l) > 1 {
			several++
		}
		if err := l.exactly(b, k); err != nil {
			t.Fatal(err)
		}
	}
	for i, x := range alone {
		if err := (lot{x}).exactly(b, k); err != nil {
			t.Fatal(err)
		}
		if y := together[i]; !reflect.DeepEqual(x.f, y.f) || !reflect.DeepEqual(x.answers, y.answers) || !reflect.DeepEqual(x.many, y.many) {
			t.Errorf("%s: %+v in a lot, %+v by itself", x.Name, y.f, x.f)
		}
	}
	if several == 0 || len(together) < 4 {
		t.Errorf("%d lots of several checks, %d checks", several, len(together))
	}
}

// What was read of a case before changes nothing of its advice.
func TestDemoRead(t *testing.T) {
	t.Parallel()
	a, c := demoAdviser(t), demoCase(t, "slip-one-gear")
	opt := Options{Best: 3, Explain: true}
	want, err := a.Price(c, opt)
	if err != nil {
		t.Fatal(err)
	}
	if len(want.Near) == 0 || !want.Whole {
		t.Fatal("nothing is counted approximately and then whole: the case tries nothing")
	}
	if opt.Read, _, err = diagnose.Read(a.Model, c); err != nil {
		t.Fatal(err)
	}
	got, err := a.Price(c, opt)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got, want) {
		t.Error("with what was read before the advice is another one")
	}
	// It is taken as it is: without any report that stands in the tree, nothing is left.
	none := *opt.Read
	none.Pieces = none.Pieces[:1]
	opt.Read = &none
	if got, err = a.Price(c, opt); err == nil && reflect.DeepEqual(got, want) {
		t.Error("what was read before is not looked at")
	}
}
