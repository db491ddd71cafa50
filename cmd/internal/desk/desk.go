package desk

import (
	"context"
	"log/slog"
	"path/filepath"
	"regexp"
	"runtime"
	"runtime/debug"
	"strings"
	"time"

	"github.com/adrg/xdg"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/archive"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/books"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/learning"
	"slipcase/cmd/internal/desk/library"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/desk/paper"
	"slipcase/cmd/internal/desk/practice"
	"slipcase/cmd/internal/desk/talk"
	"slipcase/cmd/internal/load"
	"slipcase/cmd/internal/wording"
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
	*casework.Casework
	*archive.Archive
	*paper.Paper
	*talk.Talk
	*learning.Learning

	load  *load.Loader
	books *books.Books
}

// New makes a desk.
func New(o Options) *Desk {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	if o.Home == "" {
		o.Home = filepath.Join(xdg.DataHome, "slipcase")
	}
	shop := o.Shop
	if shop == "" {
		shop = filepath.Join(o.Home, "rules")
	}
	d := &Desk{
		load:  load.New(shop, o.Shop != "", o.Log),
		books: books.New(books.Where{Home: o.Home, Book: o.Book, Case: o.Case, Log: o.Log, Now: o.Now}),
	}
	d.Library, d.Practice = library.New(d.load), practice.New(d.load)
	keeper := &opened.Keeper{Load: d.load, Log: o.Log, Books: d.books, By: o.Who}
	asker := asking.New(d.load, o.Log, keeper.ForReading)
	d.Casework, d.Archive = casework.New(asker, keeper), archive.New(keeper)
	d.Talk, d.Paper = talk.New(asker, keeper), paper.New(asker, keeper, o.Now)
	d.Learning = learning.New(d.load, o.Log, d.books)
	return d
}

// Close lets go of what stays open between questions. Fails where the casebook
// cannot be closed.
func (d *Desk) Close() error { return d.books.Close() }

// BookPrint changes when the casebook does, its files or its server. Two changes
// of one moment may look alike: what is kept by it is not to be kept for long.
func (d *Desk) BookPrint(ctx context.Context) string { return d.books.Print(ctx) }

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

var anyPath = regexp.MustCompile(`(?:[A-Za-z]:\\|/)[\w.@~+-]+(?:[/\\][\w.@~+ -]+)*[/\\][\w.@~+-]+`)

// WithoutPaths is a text that names no place of this machine: for a face that
// others than the owner see.
func (d *Desk) WithoutPaths(text string) string {
	for _, p := range [][2]string{{d.books.Name(), wording.TheCasebook}, {d.load.Shop(), wording.TheShopsRules}, {d.books.Home(), wording.TheDataFolder}} {
		if p[0] != "" {
			text = strings.ReplaceAll(text, p[0], p[1])
		}
	}
	return anyPath.ReplaceAllString(text, wording.AFile)
}
