package desk

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"math"
	"math/big"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"slipcase/engine"
)

func TestNumHasNineDigits(t *testing.T) {
	for _, c := range []struct {
		in   float64
		want string
	}{
		{0, "0"}, {math.Copysign(0, -1), "0"}, {1, "1"}, {1.0 / 3, "0.333333333"}, {2.0 / 3 * 1e-9, "6.66666667e-10"},
		{123456789012, "1.23456789e+11"}, {math.NaN(), "null"}, {math.Inf(1), "null"},
	} {
		got, err := json.Marshal(Num(c.in))
		if err != nil || string(got) != c.want {
			t.Errorf("%v: got %s, %v; want %s", c.in, got, err, c.want)
		}
	}
}

func TestRatio(t *testing.T) {
	if ratio(nil) != nil {
		t.Error("nil must stay nil")
	}
	if got := ratio(big.NewRat(14, 5)); got.Exact != "14/5" || got.Value != 2.8 {
		t.Errorf("got %+v", got)
	}
}

// Every number of an answer is a Num, so that JSON has nine digits, and every
// field has a JSON name of its own.
func TestAnswersHaveNoBareFloats(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type, string)
	walk = func(x reflect.Type, path string) {
		switch x.Kind() {
		case reflect.Float32, reflect.Float64:
			if x != reflect.TypeOf(Num(0)) {
				t.Errorf("%s is a bare %s", path, x)
			}
		case reflect.Pointer, reflect.Slice, reflect.Map, reflect.Array:
			walk(x.Elem(), path+"[]")
		case reflect.Struct:
			if seen[x] {
				return
			}
			seen[x] = true
			for i := range x.NumField() {
				f := x.Field(i)
				if f.Tag.Get("json") == "" {
					t.Errorf("%s.%s has no JSON name", path, f.Name)
				}
				walk(f.Type, path+"."+f.Name)
			}
		}
	}
	answers := []any{Version{}, []Unit{}, []Demo{}, Chart{}, Suspects{}, Why{}, Checked{}, Plan{}, Opened{}, Written{}, Cases{}, History{}, Exported{}, Imported{}}
	for _, a := range answers {
		walk(reflect.TypeOf(a), reflect.TypeOf(a).String())
	}
	if len(seen) < len(answers) {
		t.Error("hardly a type was looked at")
	}
}

func TestEnvelopeOnFailureHasDiagnostics(t *testing.T) {
	var b bytes.Buffer
	if err := (Envelope{Schema: "slipcase/x/1"}).Write(&b); err != nil {
		t.Fatal(err)
	}
	want := "{\n  \"schema\": \"slipcase/x/1\",\n  \"rules\": \"\",\n  \"method\": \"\",\n  \"data\": null,\n  \"diagnostics\": []\n}\n"
	if b.String() != want {
		t.Errorf("got %s", b.String())
	}
}

func TestDataPlace(t *testing.T) {
	home := func(k string) string {
		if k == "SLIPCASE_HOME" {
			return "/bench"
		}
		return ""
	}
	if got := DataPlace(home); got != "/bench" {
		t.Errorf("got %s", got)
	}
	if got := DataPlace(func(string) string { return "" }); filepath.Base(got) != "slipcase" || !filepath.IsAbs(got) {
		t.Errorf("got %s", got)
	}
}

func TestShopFolder(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, nil, 0o666); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, shop, home string
		layers           int
		err              string
	}{
		{"none", "", filepath.Join(dir, "nohome"), 1, ""},
		{"stated and there", dir, "", 2, ""},
		{"stated and missing", filepath.Join(dir, "nowhere"), "", 0, "there is no folder"},
		{"a file", file, "", 0, "is a file"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := New(Options{Shop: c.shop, Getenv: func(string) string { return c.home }})
			layers, err := d.layers()
			if c.err != "" {
				if err == nil || !strings.Contains(err.Error(), c.err) {
					t.Errorf("got %v", err)
				}
				return
			}
			if err != nil || len(layers) != c.layers {
				t.Errorf("%d layers, %v", len(layers), err)
			}
			for _, l := range layers {
				if _, err := fs.ReadDir(l.FS, "."); err != nil {
					t.Error(err)
				}
			}
		})
	}
}

func TestDoubtWords(t *testing.T) {
	yes, no := true, false
	for _, c := range []struct {
		stands []*bool
		want   string
	}{
		{nil, ""},
		{[]*bool{&yes, &yes}, "The first 2 keep"},
		{[]*bool{&yes, nil}, "The leader stands"},
		{[]*bool{&no, &yes}, "The leader is not firm"},
		{[]*bool{&yes, &no}, "from place 2 on"},
	} {
		var list []Suspect
		for _, s := range c.stands {
			list = append(list, Suspect{Title: "x", Stands: s})
		}
		if got := doubtWords(list); !strings.Contains(got, c.want) || (c.want == "") != (got == "") {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestFailureTellsTheFirstError(t *testing.T) {
	f := &Failure{Diagnostics: []engine.Diagnostic{{Severity: engine.Warning, Summary: "w"}, {Severity: engine.Error, Summary: "e"}}}
	if f.Error() != "e" {
		t.Errorf("got %q", f.Error())
	}
	if AsFailure(f) != f {
		t.Error("a failure must stay itself")
	}
}

// A file is replaced as a whole, keeps its mode, and a link stays a link.
func TestReplaceFile(t *testing.T) {
	dir := t.TempDir()
	file, link := filepath.Join(dir, "a.hcl"), filepath.Join(dir, "link.hcl")
	if err := os.WriteFile(file, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(file, link); err != nil {
		t.Fatal(err)
	}
	if err := replaceFile(link, []byte("new")); err != nil {
		t.Fatal(err)
	}
	got, _ := os.ReadFile(file)
	st, _ := os.Lstat(link)
	mode, _ := os.Stat(file)
	left, _ := os.ReadDir(dir)
	if string(got) != "new" || st.Mode()&os.ModeSymlink == 0 || mode.Mode().Perm() != 0o600 || len(left) != 2 {
		t.Errorf("%q %v %v, %d files", got, st.Mode(), mode.Mode(), len(left))
	}
	if err := replaceFile(filepath.Join(dir, "missing"), nil); err == nil {
		t.Error("a missing file must be an error")
	}
}
