package sqlite

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"slipcase/engine"
	"slipcase/internal/size"
	"slipcase/knowledge/casebook/contract"
	"slipcase/knowledge/casebook/internal/records"
)

// The casebook of the benchmarks: 100,000 invented cases of eight entries, with
// forty units, twenty culprits and one case in fifty still open.
const manyCases = 100_000

var many struct {
	sync.Once
	dir, path string
	took      time.Duration
	err       error
}

// manyBook makes the large casebook once, by importing it.
func manyBook(b *testing.B) *Book {
	b.Helper()
	many.Do(func() {
		// Kept over all benchmarks of the run; TestMain removes it.
		if many.dir, many.err = os.MkdirTemp("", "casebook"); many.err != nil {
			return
		}
		many.path = filepath.Join(many.dir, "cases.db")
		var book *Book
		if book, many.err = Open(bg, many.path, Options{}); many.err != nil {
			return
		}
		r, w := io.Pipe()
		go func() { w.CloseWithError(writeMany(w, manyCases)) }()
		begin := time.Now()
		_, many.err = book.Import(bg, "generated", r)
		many.took = time.Since(begin)
		if err := book.Close(); many.err == nil {
			many.err = err
		}
	})
	if many.err != nil {
		b.Fatal(many.err)
	}
	return openBook(b, many.path, Options{})
}

func writeMany(w io.Writer, n int) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, `{"kind":"casebook","format":1,"cases":%d,"entries":%d}`+"\n", n, 8*n)
	at := time.Date(2010, 1, 1, 8, 0, 0, 0, time.UTC)
	words := []string{"slips", "flares", "shudders", "whines", "bangs", "hesitates", "leaks"}
	for i := 1; i <= n; i++ {
		at = at.Add(time.Hour)
		rec := engine.CaseRecord{ID: fmt.Sprintf("%02d-%04d", at.Year()%100, i)}
		rec.Opening = engine.Opening{Unit: fmt.Sprint("unit-", i%40), Title: fmt.Sprintf("%s in gear %d", words[i%7], i%6), Vehicle: fmt.Sprint("vehicle ", i),
			Words: "it " + words[i%7] + " when it is warm and then " + words[i%5] + " at the lights", RulesHash: "00ff", At: at}
		found := engine.Seen{Component: fmt.Sprint("component_", i%20), Mode: "worn"}
		bodies := []engine.Body{
			engine.Report{Finding: fmt.Sprintf("%s@D/%d", words[i%7], i%6), State: engine.Present, By: "driver"},
			engine.Report{Finding: "lining_in_pan", State: []engine.State{engine.Present, engine.Absent}[i%2], By: "eye"},
			engine.Report{Finding: fmt.Sprintf("whines@D/%d", i%6), State: engine.Absent, By: "road_test"},
			engine.Reading{Name: "line_pressure", Place: "idle/R", Value: contract.Kilopascal(400, "4 bar", "bar"), By: "gauge"},
			engine.StepDone{Step: "pan"}, engine.Note{Text: "waits for parts"}, found,
			engine.Closing{Outcome: engine.CaseFixed, Drive: []engine.DriveResult{{Place: "D/3", OK: true}}},
		}
		if i%50 == 0 {
			bodies[7] = engine.Note{Text: "still in the yard"}
		}
		for j, body := range bodies {
			rec.Entries = append(rec.Entries, engine.Entry{Seq: int64(j + 1), By: "bench 1", At: at.Add(time.Duration(j) * time.Minute), Body: body})
		}
		lines, err := records.ExportCase(rec)
		if err != nil {
			return err
		}
		for _, line := range lines {
			out.Write(line)
			out.WriteByte('\n')
		}
	}
	return out.Flush()
}

// BenchmarkOpenAndList is what a run that lists cases does: open the casebook
// of 100,000, list one page with all counts, close.
func BenchmarkOpenAndList(b *testing.B) {
	path := manyBook(b).Path()
	b.Logf("made by an import of %v", many.took)
	for b.Loop() {
		book, err := Open(bg, path, Options{})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := book.List(bg, engine.CaseFilter{}, engine.CasePage{}); err != nil {
			b.Fatal(err)
		}
		book.Close()
	}
}

func BenchmarkList(b *testing.B) {
	book := manyBook(b)
	for _, bc := range []struct {
		name   string
		filter engine.CaseFilter
		page   engine.CasePage
	}{
		{"all", engine.CaseFilter{}, engine.CasePage{}},
		{"middle page", engine.CaseFilter{}, engine.CasePage{After: "15-50000"}},
		{"open", engine.CaseFilter{Status: engine.CaseOpen}, engine.CasePage{}},
		{"closed", engine.CaseFilter{Closed: true}, engine.CasePage{}},
		{"unit", engine.CaseFilter{Unit: "unit-7"}, engine.CasePage{}},
		{"since", engine.CaseFilter{Since: time.Date(2021, 1, 1, 0, 0, 0, 0, time.UTC)}, engine.CasePage{}},
		{"finding", engine.CaseFilter{Finding: "slips@D/3"}, engine.CasePage{}},
		{"finding of half the cases", engine.CaseFilter{Finding: "lining_in_pan"}, engine.CasePage{}},
		{"culprit", engine.CaseFilter{Culprit: "component_3"}, engine.CasePage{}},
		{"rare word", engine.CaseFilter{Text: "77777"}, engine.CasePage{}},
		{"word of every case", engine.CaseFilter{Text: "warm"}, engine.CasePage{}},
		{"two words of every case", engine.CaseFilter{Text: "w i"}, engine.CasePage{}},
		{"finding, word and culprit that seldom meet", engine.CaseFilter{Finding: "lining_in_pan", Text: "slips", Culprit: "component_1", Closed: true}, engine.CasePage{}},
		{"near the end of a broad word", engine.CaseFilter{Text: "warm", Since: time.Date(2009, 1, 1, 0, 0, 0, 0, time.UTC)}, engine.CasePage{After: "10-0040"}},
		{"unit, word and culprit", engine.CaseFilter{Unit: "unit-7", Text: "slips", Culprit: "component_7"}, engine.CasePage{}},
	} {
		b.Run(bc.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := book.List(bg, bc.filter, bc.page); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkOpenOneCase(b *testing.B) {
	path := manyBook(b).Path()
	for b.Loop() {
		book, err := Open(bg, path, Options{})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := book.Get(bg, "15-50000"); err != nil {
			b.Fatal(err)
		}
		book.Close()
	}
}

// BenchmarkAppend writes one entry to a case that grows to a hundred and is
// then left for the next, in the casebook of 100,000.
func BenchmarkAppend(b *testing.B) {
	book := manyBook(b)
	id := ""
	for i := 0; b.Loop(); i++ {
		if i%100 == 0 {
			id = openCase(b, book, engine.Opening{})
		}
		if _, err := book.Append(bg, id, engine.Entry{Body: engine.Report{Finding: "slips@D/3", State: engine.Present, By: "driver"}}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCheck(b *testing.B) {
	book := manyBook(b)
	for b.Loop() {
		if err := book.Check(bg); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkExport(b *testing.B) {
	book := manyBook(b)
	for b.Loop() {
		var n countBytes
		if err := book.Export(bg, &n); err != nil {
			b.Fatal(err)
		}
		b.SetBytes(int64(n))
	}
}

type countBytes int64

func (c *countBytes) Write(p []byte) (int, error) {
	*c += countBytes(len(p))
	return len(p), nil
}

// The generator of the benchmarks writes what an import takes.
func TestManyAreImported(t *testing.T) {
	var text bytes.Buffer
	if err := writeMany(&text, 60); err != nil {
		t.Fatal(err)
	}
	b := newBook(t)
	want := text.String()
	if res, err := b.Import(bg, "", &text); err != nil || res != (engine.ImportResult{Cases: 60, Entries: 480}) {
		t.Errorf("%+v, %v", res, err)
	}
	if string(export(t, b)) != want {
		t.Error("the export is not what was imported")
	}
	if err := b.Check(bg); err != nil {
		t.Error(err)
	}
}

// BenchmarkGrowth is the casebook of the benchmarks with a thousand cases, ten
// thousand and, with SLIPCASE_LONG=1, a hundred thousand: to import it, each case,
// and what is asked of it then.
func BenchmarkGrowth(b *testing.B) {
	sizes := []int{1_000, 10_000}
	if size.Long() {
		sizes = append(sizes, manyCases)
	}
	for _, n := range sizes {
		path := filepath.Join(b.TempDir(), "cases.db")
		book := openBook(b, path, Options{})
		r, w := io.Pipe()
		go func() { w.CloseWithError(writeMany(w, n)) }()
		begin := time.Now()
		if _, err := book.Import(bg, "generated", r); err != nil {
			b.Fatal(err)
		}
		took := time.Since(begin)
		last := fmt.Sprintf("/%d", n)
		run := func(what string, cases int, do func() error) {
			b.Run(what+last, func(b *testing.B) {
				for b.Loop() {
					if err := do(); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*cases), "us")
				b.ReportMetric(0, "ns/op")
			})
		}
		b.Run("import-a-case"+last, func(b *testing.B) {
			b.ReportMetric(float64(took.Microseconds())/float64(n), "us")
			b.ReportMetric(0, "ns/op")
		})
		list, err := book.List(bg, engine.CaseFilter{}, engine.CasePage{Limit: 1})
		if err != nil {
			b.Fatal(err)
		}
		id := list.Cases[0].ID
		run("list", 1, func() error { _, err := book.List(bg, engine.CaseFilter{}, engine.CasePage{}); return err })
		run("find-a-word", 1, func() error {
			_, err := book.List(bg, engine.CaseFilter{Text: "shudders"}, engine.CasePage{})
			return err
		})
		run("read-one", 1, func() error { _, err := book.Get(bg, id); return err })
		run("append", 1, func() error {
			_, err := book.Append(bg, id, engine.Entry{Body: engine.Note{Text: "waits"}})
			return err
		})
		run("read-a-case-of-all", n, func() error { return book.Each(bg, "", func(engine.CaseRecord, int) error { return nil }) })
		run("check-a-case", n, func() error { return book.Check(bg) })
	}
}
