// Package books opens the casebook, in a file or on a server, and says in plain
// words what is wrong with one. It knows which case is worked on, and where the
// pictures of cases are kept.
package books

import (
	"log/slog"
	"path/filepath"
	"time"

	"slipcase/knowledge/casebook/postgres"
)

// Where says which casebook, and on which case of it to work.
type Where struct {
	Home string // folder of the data
	Book string // file of the casebook, or postgres://... of one on a server; "" for the one in the data folder
	Case string // case that is worked on where none is named; "" for the one opened last
	Log  *slog.Logger
	Now  func() time.Time // stamps what is written; nil for the clock
}

// Books opens the casebook. It is safe for many requests at once.
type Books struct {
	log    *slog.Logger
	home   string
	book   string // file of the casebook; of one on a server its URL without password
	server string // URL of a casebook on a server with all that is secret in it, "" for a file
	own    bool   // the casebook is that of the data folder
	in     string
	now    func() time.Time

	stands stayingBook
}

// New makes the opener of a casebook; nothing is opened yet.
func New(w Where) *Books {
	d := &Books{log: w.Log, home: w.Home, book: w.Book, in: w.Case, now: w.Now}
	if postgres.IsURL(d.book) {
		d.server, d.book = d.book, postgres.Name(d.book)
	}
	usual := filepath.Join(d.home, "casebook.db")
	if d.own = d.book == "" || d.book == usual; d.book == "" {
		d.book = usual
	}
	return d
}

// Name is the file of the casebook, or its URL without password.
func (d *Books) Name() string { return d.book }

// Home is the folder of the data.
func (d *Books) Home() string { return d.home }

// Own tells whether the casebook is that of the data folder.
func (d *Books) Own() bool { return d.own }

// In is the case that is worked on where none is named, "" for the one opened
// last.
func (d *Books) In() string { return d.in }
