package casework

import (
	"context"
	"slices"
	"strings"
	"time"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/wording"
)

// Stored tells whether something was written to a case under a client's key,
// and the numbers of those entries. Fails with NotFound, Unavailable or
// Damaged.
func (d *Casework) Stored(ctx context.Context, id, key string) ([]int64, error) {
	j, err := d.job(ctx, opened.Ref{In: id})
	if err != nil {
		return nil, err
	}
	defer j.Close()
	var out []int64
	for _, e := range j.Rec.Entries {
		if key != "" && e.Batch() == key {
			out = append(out, e.Seq)
		}
	}
	return out, nil
}

// Last is the number of the newest entry of a case. Fails as Stored does.
func (d *Casework) Last(ctx context.Context, id string) (int64, error) {
	book, err := d.keeper.Books.Standing(ctx)
	if err != nil {
		return 0, err
	}
	n, err := book.Last(ctx, id)
	return n, d.keeper.Books.Failure(err)
}

// Watch calls tell with the number of the newest entry of a case: at once, and
// whenever there is a newer one, whoever wrote it. It looks every so often, and
// returns when ctx ends or tell fails. Fails as Stored does.
func (d *Casework) Watch(ctx context.Context, id string, every time.Duration, tell func(last int64) error) error {
	tick := time.NewTicker(every)
	defer tick.Stop()
	for told := int64(-1); ; {
		last, err := d.Last(ctx, id)
		if err != nil {
			return err
		}
		if last != told {
			if err := tell(last); err != nil {
				return err
			}
			told = last
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-tick.C:
		}
	}
}

// Measurable is something that can be measured on a unit.
type Measurable struct {
	Name  string   // as Note knows it: line_pressure@idle/R
	Title string   // "line pressure at idle/R"
	Limit string   // "80 to 110 psi", "none"
	Units []string // units of measure for its value, that of the limit first
}

// Measurables lists what can be measured on the unit of a case. Fails as
// Suspects does, but for clashing reports.
func (d *Casework) Measurables(ctx context.Context, ref asking.CaseRef) ([]Measurable, error) {
	w, err := d.open(ctx, ref)
	if err != nil {
		return nil, err
	}
	out := []Measurable{}
	for _, full := range w.ReadingNames() {
		name, place, _ := strings.Cut(full, "@")
		b, ok := w.Model.Unit.Bounds(name, place)
		if !ok {
			continue
		}
		out = append(out, Measurable{Name: full, Title: wording.Measured(b), Limit: wording.Limits(b, ""), Units: wording.UnitsOf(b.Low, b.High)})
	}
	return out, nil
}

// MustDrive lists the rows, shifts and engagements that were reported faulty
// and are to be driven before a case is closed as fixed, each with what was
// reported. Fails as Suspects does, but for clashing reports.
func (d *Casework) MustDrive(ctx context.Context, ref asking.CaseRef) ([]asking.Word, error) {
	w, err := d.open(ctx, ref)
	if err != nil {
		return nil, err
	}
	places, why := w.mustDrive()
	out := []asking.Word{}
	for _, p := range places {
		out = append(out, asking.Word{Name: p, Title: strings.Join(why[p], "; ")})
	}
	return out, nil
}

// PartWays is a component of a unit with the ways in which it can fail.
type PartWays struct {
	Component string
	Title     string
	Ways      []asking.Word
}

// Parts lists the components of the unit of a case. Fails as Suspects does, but
// for clashing reports.
func (d *Casework) Parts(ctx context.Context, ref asking.CaseRef) ([]PartWays, error) {
	w, err := d.open(ctx, ref)
	if err != nil {
		return nil, err
	}
	out := []PartWays{}
	at := map[string]int{}
	for _, i := range w.Model.Modes() {
		n := w.Model.Nodes[i]
		k, ok := at[n.Component.Name]
		if !ok {
			k = len(out)
			at[n.Component.Name] = k
			out = append(out, PartWays{Component: n.Component.Name, Title: wording.Component(n.Component)})
		}
		out[k].Ways = append(out[k].Ways, asking.Word{Name: n.Mode.Name, Title: wording.Mode(n.Mode)})
	}
	slices.SortFunc(out, func(a, b PartWays) int { return strings.Compare(a.Title, b.Title) })
	return out, nil
}

// Causes lists the root causes that may be behind a find. Fails as Parts does.
func (d *Casework) Causes(ctx context.Context, ref asking.CaseRef) ([]asking.Word, error) {
	w, err := d.open(ctx, ref)
	if err != nil {
		return nil, err
	}
	out := []asking.Word{}
	for _, c := range w.Knowledge.Causes {
		out = append(out, asking.Word{Name: c.Name, Title: wording.Title(c.Title, c.Name)})
	}
	return out, nil
}

// Revision is what every answer to a case of the casebook depends on, its
// options aside.
type Revision struct {
	Last  int64  // number of its newest entry
	Rules string // fingerprint of the shop's rules as they are now; the built-in ones do not change
	// Comebacks of the case: other cases, that its pages show.
	Comebacks int
}

// ShopPrint is a fingerprint of the shop's rules as they are now. Fails with
// Unavailable where they cannot be read.
func (d *Casework) ShopPrint() (string, error) { return d.keeper.Load.ShopPrint() }

// Revision tells how a case stands. It is quick: a page that is looked at often
// need not be made anew while it has not changed. Fails as Stored does.
func (d *Casework) Revision(ctx context.Context, id string) (Revision, error) {
	rules, err := d.keeper.Load.ShopPrint()
	if err != nil {
		return Revision{}, err
	}
	last, err := d.Last(ctx, id)
	if err != nil {
		return Revision{}, err
	}
	back, err := d.comebacks(ctx, id)
	return Revision{last, rules, back}, err
}
