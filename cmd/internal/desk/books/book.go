package books

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/knowledge/casebook/postgres"
	"slipcase/knowledge/casebook/sqlite"
	"slipcase/knowledge/wholefile"
)

// patience is how long to wait for another program that holds the casebook, or
// for a server; tests wait less.
var patience = 15 * time.Second

// Book is an open casebook, of whatever kind.
type Book interface {
	engine.Casebook
	Path() string    // of its file, or its URL without password
	Recovered() bool // the last exit was not clean, and all was checked
}

// Options are how a casebook is opened.
type Options struct {
	MustExist bool // it is not made
	Damaged   bool // it is opened although it may be damaged
}

// Open opens the casebook. Only with create is it made, with its folder,
// where there is none. Fails with NotFound where there is none and it is not made,
// Damaged, Unavailable, Canceled: see Failure.
func (d *Books) Open(ctx context.Context, create bool) (Book, error) {
	return d.OpenWith(ctx, Options{MustExist: !create})
}

// OpenWith is Open with options, and fails as it does.
func (d *Books) OpenWith(ctx context.Context, opt Options) (Book, error) {
	if d.server != "" {
		return d.openServer(ctx, opt)
	}
	if !opt.MustExist {
		if err := os.MkdirAll(filepath.Dir(d.book), 0o700); err != nil {
			return nil, d.Failure(wording.BookFolderNotMade(d.book, err))
		}
	} else if _, err := os.Stat(filepath.Dir(d.book)); err != nil {
		return nil, d.Failure(wording.BookFolderNotReached(d.book, err))
	}
	// Waiting is bounded, and not the check after an unclean exit: a large casebook
	// that takes longer could never be opened again.
	book, err := sqlite.Open(ctx, d.book, sqlite.Options{Clock: d.now, MustExist: opt.MustExist, Damaged: opt.Damaged, Wait: patience})
	if err != nil {
		return nil, d.Failure(err)
	}
	d.log.Debug("the casebook is open", "file", book.Path())
	if book.Recovered() {
		d.log.Warn("the casebook was not closed properly last time; all of it was checked and is sound", "file", book.Path())
	}
	return book, nil
}

// openServer opens a casebook on a server.
func (d *Books) openServer(ctx context.Context, opt Options) (Book, error) {
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	book, err := postgres.Open(ctx, d.server, postgres.Options{Clock: d.now, MustExist: opt.MustExist})
	if err != nil {
		return nil, d.Failure(err)
	}
	d.log.Debug("the casebook is open", "server", book.Path())
	return book, nil
}

// Failure says what is wrong with the casebook, where, and what to do.
func (d *Books) Failure(err error) error {
	var done *answer.Failure
	var refused *engine.ImportError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &done):
		return err
	case errors.As(err, &refused):
		return &answer.Failure{Code: answer.Rules, Messages: answer.Messages(refused.Diagnostics), Err: err}
	case errors.Is(err, fs.ErrNotExist):
		return fault.Fail(answer.NotFound, wording.NoCasebook(d.book),
			answer.Do(answer.BeginCasebook), answer.Do(answer.AnotherPlace), answer.Do(answer.NoCasebookNeeded)).Because(err)
	case errors.Is(err, engine.ErrNoCase):
		return answer.Fail(answer.NotFound, err.Error(), "", answer.Do(answer.ListCases)).Because(err)
	case errors.Is(err, context.Canceled):
		return answer.AsFailure(err)
	}
	for _, x := range []struct {
		is    error
		code  answer.Code
		hints []answer.Hint
	}{
		{engine.ErrBadEntry, answer.WrongUse, nil}, // no other place would take it
		{engine.ErrReadOnly, answer.Unavailable, []answer.Hint{answer.Do(answer.AnotherPlace)}},
		{fs.ErrPermission, answer.Unavailable, []answer.Hint{answer.Do(answer.AnotherPlace)}},
		{engine.ErrNetworkShare, answer.Unavailable, []answer.Hint{answer.Do(answer.CarryCases)}},
		{engine.ErrForeign, answer.Unavailable, []answer.Hint{answer.Do(answer.NameCasebook)}},
		{engine.ErrNewer, answer.Unavailable, nil},
		{engine.ErrBusy, answer.Unavailable, nil},
		{engine.ErrUncertain, answer.Unavailable, nil},
		{engine.ErrUnreachable, answer.Unavailable, nil},
		{engine.ErrFull, answer.Unavailable, nil},
		{engine.ErrDamaged, answer.Damaged, []answer.Hint{answer.Do(answer.RescueCases)}},
	} {
		if errors.Is(err, x.is) {
			return answer.Fail(x.code, err.Error(), wording.BookHelp(x.is), x.hints...).Because(err)
		}
	}
	return answer.Fail(answer.Unavailable, err.Error(), "", answer.Do(answer.AnotherPlace)).Because(err)
}

// The case worked on is kept in a small file beside the casebook, so that
// cases that are imported, or opened at another computer and brought here,
// never become it by themselves.

func (d *Books) currentFile() string {
	if d.server != "" {
		// Of this computer: each bench works on a case of its own.
		return filepath.Join(d.home, fmt.Sprintf("server-%.8x.current", sha256.Sum256([]byte(d.book))))
	}
	return d.book + ".current"
}

// SetCurrent makes a case the one that commands work on. It fails with the error
// of the file system.
func (d *Books) SetCurrent(id string) error {
	if err := os.MkdirAll(filepath.Dir(d.currentFile()), 0o700); err != nil {
		return err
	}
	return wholefile.Bytes(d.currentFile(), wholefile.InPlace, []byte(id+"\n"))
}

// CurrentID is the case to work on: the one asked for, the one that the
// environment names, or the one opened last. Fails with NotFound where no case is
// open, WrongUse where several are, else as the casebook does.
func (d *Books) CurrentID(ctx context.Context, book Book, in string) (string, error) {
	if in != "" {
		return in, nil
	}
	if d.in != "" {
		return d.in, nil
	}
	if id := d.PointedID(); id != "" {
		return id, nil
	}
	list, err := book.List(ctx, engine.CaseFilter{Status: engine.CaseOpen}, engine.CasePage{Limit: 2})
	if err != nil {
		return "", d.Failure(err)
	}
	switch len(list.Cases) {
	case 1:
		return list.Cases[0].ID, nil
	case 0:
		return "", fault.Fail(answer.NotFound, wording.NoneOpen(d.book), answer.Do(answer.OpenCase))
	}
	return "", fault.WrongUse(wording.WhichCase(list.Counts[0], d.book), answer.Do(answer.ChooseCase))
}

// PointedID is the case opened last, "" when that is not kept.
func (d *Books) PointedID() string {
	text, err := os.ReadFile(d.currentFile())
	if err != nil {
		return ""
	}
	return strings.TrimSpace(string(text))
}

// Unreadable is the failure for a case whose entries make no case.
func Unreadable(err error) *answer.Failure {
	return fault.Fail(answer.Damaged, wording.CaseNotUnderstood(err), answer.Do(answer.ExportSaves)).Because(err)
}

// NewKey makes a key that no other entry has.
func NewKey() string {
	b := make([]byte, 8)
	rand.Read(b) // never fails
	return hex.EncodeToString(b)
}
