package desk

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"slipcase/engine"
	"slipcase/knowledge/casebook"
)

// patience is how long to wait for another program that holds the casebook.
const patience = 15 * time.Second

// openBook opens the casebook. Only with create is it made, with its folder,
// where there is none.
func (d *Desk) openBook(create bool) (*casebook.Book, error) {
	if create {
		if err := os.MkdirAll(filepath.Dir(d.book), 0o700); err != nil {
			return nil, d.bookFailure(fmt.Errorf("the folder for the casebook %s cannot be made: %w", d.book, err))
		}
	} else if _, err := os.Stat(filepath.Dir(d.book)); err != nil {
		return nil, d.bookFailure(fmt.Errorf("the folder of the casebook %s cannot be reached: %w", d.book, err))
	}
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	book, err := casebook.Open(ctx, d.book, casebook.Options{MustExist: !create})
	if err != nil {
		return nil, d.bookFailure(err)
	}
	d.log.Debug("the casebook is open", "file", book.Path())
	if book.Recovered() {
		d.log.Warn("the casebook was not closed properly last time; all of it was checked and is sound", "file", book.Path())
	}
	return book, nil
}

// elsewhere tells how to name another place.
const elsewhere = "; --book FILE names another casebook, SLIPCASE_HOME another data folder"

// bookFailure says what is wrong with the casebook, where, and what to do.
func (d *Desk) bookFailure(err error) error {
	var done *Failure
	var refused *engine.ImportError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &done):
		return err
	case errors.As(err, &refused):
		return &Failure{Diagnostics: refused.Diagnostics, Err: err}
	case errors.Is(err, fs.ErrNotExist):
		f := usage("there is no casebook yet at "+d.book,
			"slipcase open --unit UNIT --title TEXT begins it with a first case"+elsewhere+"; --case FILE and --demo NAME need none")
		f.Err = err
		return f
	case errors.Is(err, engine.ErrNoCase):
		f := usage(err.Error(), "slipcase cases lists them")
		f.Err = err
		return f
	}
	f := failed(err.Error(), "")
	f.Err = err
	for _, x := range []struct {
		is     error
		detail string
	}{
		{engine.ErrReadOnly, "make the folder writable" + elsewhere},
		{fs.ErrPermission, "see to its permissions" + elsewhere},
		{engine.ErrNetworkShare, "SLIPCASE_HOME moves the data folder, --book FILE names another casebook; slipcase export and import carry cases across"},
		{engine.ErrForeign, "name the right file with --book"},
		{engine.ErrNewer, "nothing was touched"},
		{engine.ErrBusy, "commands write for moments only: another bench is importing, or another program holds the file"},
		{engine.ErrFull, "the case is as it was"},
		{engine.ErrDamaged, "do not delete anything"},
	} {
		if errors.Is(err, x.is) {
			f.Diagnostics[0].Detail = x.detail
			return f
		}
	}
	if f.Diagnostics[0].Detail == "" {
		f.Diagnostics[0].Detail = strings.TrimPrefix(elsewhere, "; ")
	}
	return f
}

// The case worked on is kept in a small file beside the casebook, so that
// cases that are imported, or opened at another computer and brought here,
// never become it by themselves.

func (d *Desk) currentFile() string { return d.book + ".current" }

// setCurrent makes a case the one that commands work on.
func (d *Desk) setCurrent(id string) error {
	f, err := os.CreateTemp(filepath.Dir(d.book), filepath.Base(d.book)+".current.*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // gone already when all went well
	_, err = f.WriteString(id + "\n")
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Rename(f.Name(), d.currentFile())
	}
	return err
}

// currentID is the case to work on: the one asked for, the one that the
// environment names, or the one opened last.
func (d *Desk) currentID(ctx context.Context, book *casebook.Book, in string) (string, error) {
	if in != "" {
		return in, nil
	}
	if id := d.env("SLIPCASE_CASE"); id != "" {
		return id, nil
	}
	if id := d.pointedID(); id != "" {
		return id, nil
	}
	list, err := book.List(ctx, engine.CaseFilter{Status: engine.CaseOpen}, engine.CasePage{Limit: 2})
	if err != nil {
		return "", d.bookFailure(err)
	}
	switch len(list.Cases) {
	case 1:
		return list.Cases[0].ID, nil
	case 0:
		return "", usage("no case is open in "+d.book, "slipcase open --unit UNIT --title TEXT opens one; slipcase cases lists those there are")
	}
	return "", usage(fmt.Sprintf("which case? %d are open in %s", list.Counts[0], d.book), "name it with --in ID, or take it up with slipcase open ID; slipcase cases --open lists them")
}

// pointedID is the case opened last, "" when that is not kept.
func (d *Desk) pointedID() string {
	text, err := os.ReadFile(d.currentFile())
	if err != nil {
		return ""
	}
	return strings.TrimSpace(string(text))
}
