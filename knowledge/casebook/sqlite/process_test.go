package sqlite

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"slipcase/engine"
	"slipcase/internal/size"
)

// The tests of whole processes start this test program again in a role.
const roleVariable = "CASEBOOK_TEST_ROLE"

var roles = map[string]func(path, name string) error{
	"write forever": writeForever,
	"write fifty":   writeFifty,
}

func TestMain(m *testing.M) {
	if role := os.Getenv(roleVariable); role != "" {
		if err := roles[role](os.Getenv("CASEBOOK_TEST_PATH"), os.Getenv("CASEBOOK_TEST_NAME")); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	code := m.Run()
	if many.dir != "" {
		os.RemoveAll(many.dir)
	}
	os.Exit(code)
}

// child prepares this program in a role; it may be started once.
func child(t *testing.T, role, path, name string) *exec.Cmd {
	t.Helper()
	if roles[role] == nil {
		t.Fatalf("no role %q", role)
	}
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(exe)
	c.Env = append(os.Environ(), roleVariable+"="+role, "CASEBOOK_TEST_PATH="+path, "CASEBOOK_TEST_NAME="+name)
	c.Stderr = os.Stderr
	return c
}

// writeForever opens cases and appends to them, and says on standard output
// what it has been told is written: "case KEY ID", "entry CASE SEQ KEY".
func writeForever(path, name string) error {
	for round := 0; ; round++ {
		b, err := Open(bg, path, Options{Clock: steady})
		if err != nil {
			return err
		}
		for i := range 8 {
			key := fmt.Sprintf("%s-%d-%d", name, round, i)
			id, err := b.OpenCase(bg, engine.Opening{Unit: "northfork-4", Title: key, Key: key})
			if err != nil {
				return err
			}
			fmt.Printf("case %s %s\n", key, id)
			for j := range 6 {
				key := fmt.Sprint(key, "-", j)
				seqs, err := b.Append(bg, id,
					engine.Entry{Key: key, Body: engine.Note{Text: key}},
					engine.Entry{Key: key + "b", Body: engine.Report{Finding: "slips@D/3", State: engine.Present, By: "driver", Note: key + "b"}})
				if err != nil {
					return err
				}
				fmt.Printf("entry %s %d %s\nentry %s %d %sb\n", id, seqs[0], key, id, seqs[1], key)
			}
		}
		// A clean exit now and then, so that kills also hit opening and closing.
		if err := b.Close(); err != nil {
			return err
		}
	}
}

// writeFifty appends fifty entries to the first case.
func writeFifty(path, name string) error {
	b, err := Open(bg, path, Options{})
	if err != nil {
		return err
	}
	defer b.Close()
	for i := range 50 {
		if _, err := b.Append(bg, "26-0001", engine.Entry{By: name, Body: engine.Note{Text: fmt.Sprint(name, " ", i)}}); err != nil {
			return err
		}
	}
	return nil
}

// acknowledged is what a child was told is written.
type acknowledged struct {
	cases   map[string]string         // key -> id
	entries map[string]map[int]string // case -> number -> key
}

// read takes in all that a child says; begun is called at its first line.
func (a *acknowledged) read(out io.Reader, begun func()) error {
	lines := bufio.NewScanner(out)
	for first := true; lines.Scan(); first = false {
		if first && begun != nil {
			begun()
		}
		var id, key string
		var seq int
		if n, _ := fmt.Sscanf(lines.Text(), "entry %s %d %s", &id, &seq, &key); n == 3 {
			if a.entries[id] == nil {
				a.entries[id] = map[int]string{}
			}
			a.entries[id][seq] = key
		} else if n, _ := fmt.Sscanf(lines.Text(), "case %s %s", &key, &id); n == 2 {
			a.cases[key] = id
		} else {
			return fmt.Errorf("line %q", lines.Text())
		}
	}
	return lines.Err()
}

// verify compares all that was acknowledged with what is there.
func (a *acknowledged) verify(t *testing.T, b *Book) {
	t.Helper()
	for key, id := range a.cases {
		rec, err := b.Get(bg, id)
		if err != nil {
			t.Fatalf("acknowledged case %s: %v", id, err)
		}
		if rec.Opening.Key != key || rec.Opening.Title != key {
			t.Fatalf("case %s is %q, acknowledged was %q", id, rec.Opening.Key, key)
		}
		for seq, key := range a.entries[id] {
			if seq > len(rec.Entries) || rec.Entries[seq-1].Key != key {
				t.Fatalf("case %s has lost entry %d, key %s", id, seq, key)
			}
		}
		// Nothing by halves: entries were appended in twos.
		if len(rec.Entries)%2 != 0 {
			t.Fatalf("case %s has %d entries, half of a pair", id, len(rec.Entries))
		}
	}
}

// Whenever the process is killed, every acknowledged entry is there afterwards
// and the file is sound. This tries the death of the process; the loss of power
// also needs a disk that does what it says when asked to sync.
func TestKilledWhileWriting(t *testing.T) {
	kills := size.Of(12, 25, 1000)
	path := filepath.Join(t.TempDir(), "cases.db")
	r := rand.New(rand.NewPCG(9, 26))
	all := &acknowledged{map[string]string{}, map[string]map[int]string{}}
	recovered, entries := 0, 0
	count := func() {
		for _, of := range all.entries {
			entries += len(of)
		}
	}
	for kill := range kills {
		// A new file every while keeps the verification short.
		if kill%100 == 99 {
			count()
			path = filepath.Join(t.TempDir(), "cases.db")
			all = &acknowledged{map[string]string{}, map[string]map[int]string{}}
		}
		c := child(t, "write forever", path, fmt.Sprint("k", kill))
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		// Most kills hit a process that writes, some one that is opening or
		// closing; counted from its first line a slow machine changes nothing.
		after := time.Duration(r.IntN(60)) * time.Millisecond
		shoot := func() { time.AfterFunc(after, func() { c.Process.Kill() }) }
		begun := shoot
		if kill%5 == 4 {
			shoot()
			begun = nil
		}
		if err := all.read(out, begun); err != nil {
			t.Fatal(err)
		}
		err = c.Wait()
		if c.ProcessState.Exited() {
			t.Fatalf("kill %d: the child ended by itself: %v", kill, err)
		}
		// Opening finds the unclean exit and checks everything by itself.
		b, err := Open(bg, path, Options{Clock: steady})
		if err != nil {
			t.Fatalf("kill %d: %v", kill, err)
		}
		if b.Recovered() {
			recovered++
		}
		all.verify(t, b)
		if err := b.Close(); err != nil {
			t.Fatal(err)
		}
	}
	b := openBook(t, path, Options{Check: true})
	if b.Recovered() {
		t.Error("a clean exit was taken for an unclean one")
	}
	count()
	t.Logf("%d kills, %d found as unclean exits, %d acknowledged entries, none lost", kills, recovered, entries)
	if recovered < kills/4 || entries < kills {
		t.Error("too few kills hit a process at work for this test to mean anything")
	}
}

func TestTwoProcessesOneCase(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cases.db")
	b := openBook(t, path, Options{})
	id := openCase(t, b, engine.Opening{Title: "shared"})
	var wg sync.WaitGroup
	names := []string{"bench 1", "bench 2"}
	for _, name := range names {
		c := child(t, "write fifty", path, name)
		wg.Go(func() {
			if err := c.Run(); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		})
	}
	// This process writes too, from two goroutines.
	for _, name := range []string{"desk 1", "desk 2"} {
		names = append(names, name)
		wg.Go(func() {
			for i := range 50 {
				if _, err := b.Append(bg, id, engine.Entry{By: name, Body: engine.Note{Text: fmt.Sprint(name, " ", i)}}); err != nil {
					t.Error(err)
					return
				}
			}
		})
	}
	wg.Wait()
	next := map[string]int{}
	rec := get(t, b, id)
	turns := 0
	for i, e := range rec.Entries {
		if want := fmt.Sprint(e.By, " ", next[e.By]); e.Body != (engine.Note{Text: want}) {
			t.Fatalf("entry %d is %v, want %q: out of order", e.Seq, e.Body, want)
		}
		next[e.By]++
		if i > 0 && rec.Entries[i-1].By != e.By {
			turns++
		}
	}
	for _, name := range names {
		if next[name] != 50 {
			t.Errorf("%s wrote 50 entries, %d are there", name, next[name])
		}
	}
	if turns < 4 {
		t.Errorf("the writers took turns only %d times; this shows nothing", turns)
	}
	if err := b.Check(bg); err != nil {
		t.Error(err)
	}
}

// One bench dies while another stays: the other goes on, and nothing is lost.
func TestKilledBesideAnother(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cases.db")
	b := openBook(t, path, Options{})
	id := openCase(t, b, engine.Opening{Title: "stays"})
	all := &acknowledged{map[string]string{}, map[string]map[int]string{}}
	for i := range 4 {
		c := child(t, "write forever", path, fmt.Sprint("k", i))
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		shoot := func() { time.AfterFunc(20*time.Millisecond, func() { c.Process.Kill() }) }
		for j := range 10 {
			add(t, b, id, engine.Note{Text: fmt.Sprint(i, " ", j)})
		}
		if err := all.read(out, shoot); err != nil {
			t.Fatal(err)
		}
		c.Wait()
		all.verify(t, b)
	}
	if n := len(get(t, b, id).Entries); n != 40 {
		t.Errorf("%d entries, want 40", n)
	}
	if err := b.Check(bg); err != nil {
		t.Error(err)
	}
}

// Another writer holds its transaction open: the wait is bounded and told.
func TestBusyIsTold(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cases.db")
	b := openBook(t, path, Options{})
	id := openCase(t, b, engine.Opening{})
	other := openBook(t, path, Options{Wait: 50 * time.Millisecond})
	tx, err := b.writer.Begin()
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback()
	_, err = other.Append(bg, id, engine.Entry{Body: engine.Note{Text: "x"}})
	if !errors.Is(err, engine.ErrBusy) || !strings.Contains(err.Error(), "nothing was written") {
		t.Errorf("error %v, want busy", err)
	}
	// Reading goes on meanwhile.
	if _, err := other.Get(bg, id); err != nil {
		t.Error(err)
	}
}
