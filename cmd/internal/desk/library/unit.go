package library

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/draft"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/load"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/knowledge/wholefile"
	"slipcase/rules"
)

// UnitText is a unit written out whole.
type UnitText struct {
	Unit string `json:"unit"`
	Text string `json:"text"`
}

// WholeUnit writes a unit out whole, made parts included, for editing. Fails
// with NotFound or Rules.
func (d *Library) WholeUnit(ctx context.Context, unit string) (answer.Answer[UnitText], error) {
	x, err := d.load.Load(ctx, unit)
	if err != nil {
		return answer.Answer[UnitText]{}, err
	}
	layers, err := d.load.Layers()
	if err != nil {
		return answer.Answer[UnitText]{}, err
	}
	text, diags := rules.WriteUnit(rules.Options{Layers: layers, Unit: unit})
	if text == nil {
		return answer.Answer[UnitText]{}, &answer.Failure{Code: answer.Rules, Rules: x.Knowledge.Hash, Messages: answer.Messages(diags)}
	}
	return answer.Answer[UnitText]{Rules: x.Knowledge.Hash, Data: UnitText{unit, string(text)}, Diagnostics: answer.Messages(diags)}, nil
}

// UnitDraft is a unit in the making. What is answered is on the disk at once,
// beside the shop's units, so that it can be left at any question.
type UnitDraft struct {
	*draft.Draft
	ID      string
	File    string // where the unit will stand
	Resumed int    // answers that were there already
	kept    string // file of the answers
}

var unitName = regexp.MustCompile(`^[a-z][a-z0-9_-]{0,60}$`)

// DraftUnit begins or resumes a unit of this id in the shop's folder. Fails
// with WrongUse for an id that cannot be one, Conflict where the unit is there.
func (d *Library) DraftUnit(ctx context.Context, id string) (*UnitDraft, error) {
	if !unitName.MatchString(id) {
		return nil, fault.WrongUse(wording.BadUnitName(id))
	}
	x, err := d.load.Load(ctx, "")
	if err != nil {
		return nil, err
	}
	folder := filepath.Join(d.load.Shop(), "units")
	// The shop's own come last, so that the numbers of the others stay.
	builtIn := func(u *engine.Unit) bool { return strings.HasPrefix(u.At.File, load.BuiltIn+"/") }
	alike := slices.DeleteFunc(slices.Clone(x.Knowledge.Units), func(u *engine.Unit) bool { return !builtIn(u) })
	alike = append(alike, draft.ParallelShafts())
	alike = append(alike, slices.DeleteFunc(slices.Clone(x.Knowledge.Units), builtIn)...)
	u := &UnitDraft{Draft: draft.New(id, alike), ID: id, File: filepath.Join(folder, id+".hcl"), kept: filepath.Join(folder, "."+id+".draft")}
	if x.Knowledge.Unit(id) != nil {
		return nil, fault.Conflict(wording.UnitThere(id))
	}
	said, err := os.ReadFile(u.kept)
	switch {
	case err == nil:
		if lines := strings.Split(strings.TrimSuffix(string(said), "\n"), "\n"); len(said) > 0 {
			u.Draft.Resume(lines)
			u.Resumed = len(u.Said())
		}
	case !errors.Is(err, fs.ErrNotExist):
		return nil, fault.Fail(answer.Unavailable, wording.DraftNotRead(err)).Because(err)
	}
	return u, nil
}

// Answer takes a line and keeps it on the disk. Fails with a *draft.ErrAnswer that
// leaves the question open, with Unavailable where the line cannot be kept.
func (u *UnitDraft) Answer(text string) (draft.Reply, error) {
	r, err := u.Draft.Answer(strings.Map(func(c rune) rune {
		if c == '\n' || c == '\r' {
			return ' '
		}
		return c
	}, text))
	if err != nil {
		return r, err
	}
	err = wholefile.Bytes(u.kept, wholefile.InPlace, []byte(strings.Join(u.Said(), "\n")+"\n"))
	if err != nil {
		return r, fault.Fail(answer.Unavailable, wording.DraftNotKept(err)).Because(err)
	}
	return r, nil
}

// Write lays the finished unit into the shop's folder and forgets the answers.
// Fails with Conflict before the last question, Rules where the text cannot be
// read (a mistake of ours), Unavailable where it cannot be written.
func (u *UnitDraft) Write() error {
	if u.Next().Kind != draft.Done {
		return fault.Conflict(wording.DraftOpen())
	}
	text, err := rules.Format(u.File, []byte(u.Text()))
	if err != nil {
		return answer.AsFailure(err)
	}
	if err := wholefile.Bytes(u.File, wholefile.InPlace, text); err != nil {
		return fault.Fail(answer.Unavailable, wording.UnitNotWritten(err)).Because(err)
	}
	if err := os.Remove(u.kept); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fault.Fail(answer.Unavailable, wording.DraftNotRemoved(err)).Because(err)
	}
	return nil
}
