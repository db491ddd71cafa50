package sqlite

import (
	"bytes"
	"encoding/binary"
	"errors"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"slipcase/engine"
	"slipcase/internal/size"
)

// emptied makes the pages of an index look like an empty one: SQLite reads on
// without an error, and finds nothing. The page header is that of
// sqlite.org/fileformat2.html, section 1.6.
func emptied(t *testing.T, path, index string) []byte {
	t.Helper()
	b, err := Open(bg, path, Options{Clock: steady})
	if err != nil {
		t.Fatal(err)
	}
	var root int64
	err = b.reader.QueryRow("SELECT rootpage FROM sqlite_schema WHERE name = ?", index).Scan(&root)
	if err == nil {
		err = b.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	bad := readFile(t, path)
	size := int64(binary.BigEndian.Uint16(bad[16:]))
	page := bad[(root-1)*size : root*size]
	clear(page)
	page[0] = 0x0a // a leaf of an index
	binary.BigEndian.PutUint16(page[5:], uint16(size))
	return bad
}

// An index that lost its rows hides cases without an error of SQLite's. What
// then looks empty or short is damage, never an empty backup or a missing case.
func TestEmptiedIndexes(t *testing.T) {
	path, truth, whole := closedShop(t, 12)
	for _, index := range []string{"cases_number", "sqlite_autoindex_cases_1", "sqlite_autoindex_cases_2", "state_number", "state_status"} {
		t.Run(index, func(t *testing.T) {
			broken := filepath.Join(t.TempDir(), "cases.db")
			writeFile(t, broken, emptied(t, path, index))
			b, err := Open(bg, broken, Options{Clock: steady})
			if err != nil {
				isDamage(t, 0, "open", err)
				return
			}
			defer b.Close()
			if err := b.Check(bg); !errors.Is(err, engine.ErrDamaged) {
				t.Errorf("the check says %v", err)
			}
			var out bytes.Buffer
			if err := b.Export(bg, &out); err == nil {
				other := newBook(t)
				if _, err := other.Import(bg, "export", &out); err != nil {
					t.Fatal(err)
				}
				for id, want := range truth {
					if d := cmp.Diff(want, get(t, other, id), cmpopts.EquateEmpty()); d != "" {
						t.Errorf("the export differs: %s", d)
					}
				}
			} else {
				isDamage(t, 0, "export", err)
			}
			if list, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{}); err == nil {
				if d := cmp.Diff(whole, list, cmpopts.EquateEmpty()); d != "" {
					t.Errorf("the list differs: %s", d)
				}
			} else {
				isDamage(t, 0, "list", err)
			}
			for _, c := range whole.Cases {
				if _, err := b.Get(bg, c.ID); err != nil {
					isDamage(t, 0, "get", err)
				}
				if _, err := b.Last(bg, c.ID); err != nil {
					isDamage(t, 0, "last", err)
				}
				if _, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{After: c.ID}); err != nil {
					isDamage(t, 0, "page", err)
				}
			}
			// All of it is still in the tables.
			out.Reset()
			res, err := b.Rescue(bg, &out)
			if err != nil {
				t.Fatal(err)
			}
			if res.Cases != len(truth) || len(res.Lost) > 0 {
				t.Errorf("rescued %d of %d cases, lost %v", res.Cases, len(truth), res.Lost)
			}
			sameCases(t, truth, out.Bytes(), nil)
		})
	}
}

// sameCases imports an export into a new casebook and compares it with the
// truth: whole cases, and shortened ones up to the entry that is named.
func sameCases(t *testing.T, truth map[string]engine.CaseRecord, export []byte, lost []engine.RescueLoss) {
	t.Helper()
	b := newBook(t)
	if _, err := b.Import(bg, "rescued", bytes.NewReader(export)); err != nil {
		t.Fatal(err)
	}
	gone, until := map[string]bool{}, map[string]int64{}
	for _, l := range lost {
		gone[l.ID] = gone[l.ID] || l.Whole
		until[l.ID] = l.After
	}
	for id, want := range truth {
		if gone[id] {
			continue
		}
		if n, ok := until[id]; ok {
			want.Entries = want.Entries[:n]
		}
		if d := cmp.Diff(want, get(t, b, id), cmpopts.EquateEmpty()); d != "" {
			t.Errorf("case %s: %s", id, d)
		}
	}
}

// What a rescue writes is true, whatever was damaged; what it lost it names.
func TestRescue(t *testing.T) {
	path, truth, _ := closedShop(t, 24)
	good := readFile(t, path)
	opened, saved := 0, 0
	step := 4096 * size.Of(6, 3, 1)
	for page := 4096; page < len(good); page += step {
		bad := bytes.Clone(good)
		for i := page + 1000; i < page+1040; i++ {
			bad[i] ^= 0x5a
		}
		broken := filepath.Join(t.TempDir(), "cases.db")
		writeFile(t, broken, bad)
		b, err := Open(bg, broken, Options{Clock: steady, Damaged: true})
		if err != nil {
			isDamage(t, page, "open", err)
			continue
		}
		opened++
		var out bytes.Buffer
		res, err := b.Rescue(bg, &out)
		if err != nil {
			t.Fatalf("page at %d: %v", page, err)
		}
		named := map[string]bool{}
		for _, l := range res.Lost {
			named[l.ID] = true
		}
		if len(truth)-res.Cases > len(res.Lost) {
			t.Errorf("page at %d: %d of %d cases, and only %d named as lost", page, res.Cases, len(truth), len(res.Lost))
		}
		saved += res.Cases
		sameCasesIfNamed(t, truth, out.Bytes(), res.Lost)
		if err := b.Close(); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d damaged casebooks opened, %d of %d cases saved", opened, saved, opened*len(truth))
	if opened < 5 || saved < opened*len(truth)/2 {
		t.Error("too little was tried or saved for this test to mean anything")
	}
}

// sameCasesIfNamed is sameCases where a lost case may have no readable id.
func sameCasesIfNamed(t *testing.T, truth map[string]engine.CaseRecord, export []byte, lost []engine.RescueLoss) {
	t.Helper()
	nameless := 0
	for _, l := range lost {
		if _, known := truth[l.ID]; !known {
			nameless++
		}
	}
	b := newBook(t)
	if _, err := b.Import(bg, "rescued", bytes.NewReader(export)); err != nil {
		t.Fatal(err)
	}
	here := map[string]engine.CaseRecord{}
	for id, rec := range truth {
		if _, err := b.Get(bg, id); errors.Is(err, engine.ErrNoCase) && nameless > 0 {
			nameless--
			continue
		}
		here[id] = rec
	}
	sameCases(t, here, export, lost)
}
