package desk

import (
	"context"
	"log/slog"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"time"

	"github.com/adrg/xdg"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/library"
	"slipcase/cmd/internal/desk/practice"
	"slipcase/cmd/internal/load"
	"slipcase/cmd/internal/wording"
	"slipcase/knowledge/casebook/postgres"
	"slipcase/rules"
)

// Options are what a face knows before anything is loaded.
type Options struct {
	Home string // folder of the data; "" for the system's own place
	Shop string // folder of the shop's rules; "" for the one in the data folder
	Book string // file of the casebook, or postgres://... of one on a server; "" for the one in the data folder
	Case string // case of the casebook that is worked on where none is named; "" for the one opened last
	Who  string // who enters what is entered, where nobody is named
	Log  *slog.Logger
	Now  func() time.Time // stamps what is written; nil for the clock
}

// Desk answers questions. It loads what a question needs, and nothing before,
// and keeps it for the next. It is safe for many requests at once.
type Desk struct {
	*library.Library
	*practice.Practice

	load   *load.Loader
	log    *slog.Logger
	home   string
	book   string // file of the casebook; of one on a server its URL without password
	server string // URL of a casebook on a server with all that is secret in it, "" for a file
	own    bool   // the casebook is that of the data folder
	in     string
	by     string
	now    func() time.Time

	stands stayingBook
}

// New makes a desk.
func New(o Options) *Desk {
	d := &Desk{log: o.Log, home: o.Home, book: o.Book, in: o.Case, by: o.Who, now: o.Now}
	if d.log == nil {
		d.log = slog.New(slog.DiscardHandler)
	}
	if d.home == "" {
		d.home = filepath.Join(xdg.DataHome, "slipcase")
	}
	if postgres.IsURL(d.book) {
		d.server, d.book = d.book, postgres.Name(d.book)
	}
	shop := o.Shop
	if shop == "" {
		shop = filepath.Join(d.home, "rules")
	}
	if d.own = d.book == "" || d.book == filepath.Join(d.home, "casebook.db"); d.book == "" {
		d.book = filepath.Join(d.home, "casebook.db")
	}
	d.load = load.New(shop, o.Shop != "", d.log)
	d.Library, d.Practice = library.New(d.load), practice.New(d.load)
	d.Library, d.Practice = library.New(d.load), practice.New(d.load)
	return d
}

// Version says what is running.
type Version struct {
	Version   string `json:"version"`
	Go        string `json:"go"`
	Language  int    `json:"language"`
	Rules     string `json:"rules"`
	Shop      string `json:"shop"`
	ShopState string `json:"shop_state"` // whether it is there, in words
}

// release is the version of a program that is handed out, set by its build.
var release string

// Program is the version of the program.
func Program() string {
	if release != "" {
		return release
	}
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return info.Main.Version
	}
	return "unknown"
}

// Version gives the program's version and the fingerprint of all rules, which
// are not read for it: it answers with rules that are broken too. Fails with
// Unavailable where the shop's folder cannot be read.
func (d *Desk) Version(ctx context.Context) (answer.Answer[Version], error) {
	layers, err := d.load.Layers()
	if err != nil {
		return answer.Answer[Version]{}, err
	}
	hash, diags := rules.Fingerprint(layers)
	v := Version{Version: Program(), Go: runtime.Version(), Language: rules.LanguageVersion, Rules: hash, Shop: d.load.Shop()}
	v.ShopState = wording.ShopState(d.load.ShopIsThere())
	return answer.Answer[Version]{Rules: hash, Data: v, Diagnostics: answer.Messages(diags)}, ctx.Err()
}

// Source is the text of a file that a message names, nil when it cannot be had.
func (d *Desk) Source(name string) []byte { return d.load.Source(name) }
