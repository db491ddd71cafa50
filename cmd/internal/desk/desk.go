package desk

import (
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"

	"github.com/adrg/xdg"

	"slipcase/engine"
	"slipcase/rules"
)

// Options are what a run knows before it loads anything.
type Options struct {
	Shop   string // folder of the shop's rules; "" for the one in the data place
	Book   string // file of the casebook; "" for the one in the data place
	Getenv func(string) string
	Log    *slog.Logger
}

// Desk answers questions. It loads what a question needs, and nothing before.
type Desk struct {
	shop   string
	stated bool // the shop folder was asked for: it must be there
	log    *slog.Logger
	texts  map[string][]byte // files read by name
	book   string            // file of the casebook
	env    func(string) string
}

// New makes a desk.
func New(o Options) *Desk {
	d := &Desk{shop: o.Shop, stated: o.Shop != "", log: o.Log, texts: map[string][]byte{}, book: o.Book, env: o.Getenv}
	if d.log == nil {
		d.log = slog.New(slog.DiscardHandler)
	}
	if d.env == nil {
		d.env = os.Getenv
	}
	if !d.stated {
		d.shop = filepath.Join(DataPlace(d.env), "rules")
	}
	if d.book == "" {
		d.book = filepath.Join(DataPlace(d.env), "casebook.db")
	}
	return d
}

// DataPlace is the folder for slipcase's data: SLIPCASE_HOME, or the system's
// own place for it. It need not exist.
func DataPlace(getenv func(string) string) string {
	if home := getenv("SLIPCASE_HOME"); home != "" {
		return home
	}
	return filepath.Join(xdg.DataHome, "slipcase")
}

// Answer is what a use case gives.
type Answer struct {
	Rules       string
	Method      string
	Data        any
	Diagnostics []engine.Diagnostic // warnings about the rules
	Warnings    []engine.Diagnostic // warnings about the case: always told
}

// Version says what is running.
type Version struct {
	Version   string `json:"version"`
	Go        string `json:"go"`
	Language  int    `json:"language"`
	Rules     string `json:"rules"`
	Shop      string `json:"shop"`
	ShopState string `json:"shop_state"` // "laid over the built-in rules" or "no such folder: built-in rules only"
}

// Version gives the program's version and the fingerprint of all rules.
func (d *Desk) Version() (Answer, error) {
	k, diags, err := d.load("")
	if err != nil {
		return Answer{}, err
	}
	v := Version{Version: "unknown", Go: runtime.Version(), Language: rules.LanguageVersion, Rules: k.Hash, Shop: d.shop}
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		v.Version = info.Main.Version
	}
	v.ShopState = "no such folder: built-in rules only"
	if st, err := os.Stat(d.shop); err == nil && st.IsDir() {
		v.ShopState = "laid over the built-in rules"
	}
	return Answer{Rules: k.Hash, Data: v, Diagnostics: diags}, nil
}

// shopFS is the shop's folder, nil when there is none.
func (d *Desk) shopFS() (fs.FS, error) {
	st, err := os.Stat(d.shop)
	switch {
	case err == nil && st.IsDir():
		d.log.Debug("the shop's rules are laid over the built-in ones", "folder", d.shop)
		return os.DirFS(d.shop), nil
	case err == nil:
		return nil, failed(d.shop+" is a file", "--shop wants the folder that holds the shop's rule files")
	case os.IsNotExist(err) && !d.stated:
		d.log.Debug("no folder of the shop's own: built-in rules only", "folder", d.shop)
		return nil, nil
	case os.IsNotExist(err):
		return nil, failed("there is no folder "+d.shop, "give --shop the folder that holds the shop's rule files, or leave it out")
	}
	return nil, failed("the folder of the shop's rules cannot be read: "+err.Error(), "see to its permissions, or give another with --shop")
}
