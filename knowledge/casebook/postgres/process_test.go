package postgres

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"slipcase/engine"
	"slipcase/internal/size"
	"slipcase/knowledge/casebook/contract"
	"slipcase/knowledge/casebook/postgres/throwaway"
)

// The tests of whole processes start this test program again in a role.
const roleVariable = "CASEBOOK_TEST_ROLE"

const writes = 40 // by each bench

// playRole opens the casebook, and as a bench writes to its first case and
// opens cases of its own.
func playRole(role string) int {
	b, err := Open(bg, os.Getenv("CASEBOOK_TEST_URL"), Options{Clock: contract.Steady, Wait: time.Minute})
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	defer b.Close()
	if role == "open" {
		return 0
	}
	for i := range writes {
		text := fmt.Sprint(role, " ", i)
		seqs, err := b.Append(bg, "26-0001", engine.Entry{Body: engine.Note{Text: text}})
		if err == nil && i%8 == 0 {
			_, err = b.OpenCase(bg, engine.Opening{Unit: "northfork-4", Title: text})
		}
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		fmt.Println(seqs[0], text)
	}
	return 0
}

func role(t *testing.T, role, url string) (*exec.Cmd, *bytes.Buffer) {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(exe)
	c.Env = append(os.Environ(), roleVariable+"="+role, "CASEBOOK_TEST_URL="+url)
	c.Stderr = os.Stderr
	out := &bytes.Buffer{}
	c.Stdout = out
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	return c, out
}

// held checks that each of the texts is in the case once, and nothing else.
func held(t *testing.T, b *Book, id string, want []string) {
	t.Helper()
	var got []string
	for _, e := range contract.Get(t, b, id).Entries {
		got = append(got, e.Body.(engine.Note).Text)
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("the case has %d entries, %d were acknowledged:\n%q\n%q", len(got), len(want), got, want)
	}
	if err := b.Check(bg); err != nil {
		t.Error(err)
	}
}

// Two benches in two processes on one case: nothing lost, nothing twice, and
// the numbers that each was given are those that its entries have.
func TestTwoBenches(t *testing.T) {
	url := empty(t)
	b := open(t, url, Options{})
	id := contract.OpenCase(t, b, engine.Opening{})
	one, first := role(t, "bench 1", url)
	two, second := role(t, "bench 2", url)
	for _, c := range []*exec.Cmd{one, two} {
		if err := c.Wait(); err != nil {
			t.Error(err)
		}
	}
	rec := contract.Get(t, b, id)
	var want []string
	for line := range strings.Lines(first.String() + second.String()) {
		var seq int
		number, text, _ := strings.Cut(strings.TrimSpace(line), " ")
		if _, err := fmt.Sscan(number, &seq); err != nil {
			t.Fatal(err)
		}
		want = append(want, text)
		if seq > len(rec.Entries) || rec.Entries[seq-1].Body != (engine.Note{Text: text}) {
			t.Errorf("entry %d is not %q", seq, text)
		}
	}
	if len(want) != 2*writes {
		t.Errorf("%d acknowledged", len(want))
	}
	held(t, b, id, want)
	if l, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{}); err != nil || l.Total != 1+2*writes/8 {
		t.Errorf("%d cases, %v", l.Total, err)
	}
}

// Eight at once, of which the server lets one through at a time.
func TestConflictsAreTriedAgain(t *testing.T) {
	url := empty(t)
	b := open(t, url, Options{})
	id := contract.OpenCase(t, b, engine.Opening{})
	var want []string
	benches, each := size.Of(5, 8, 8), size.Of(4, 6, 6)
	var wait sync.WaitGroup
	for i := range benches {
		other := open(t, url, Options{Wait: time.Minute})
		for j := range each {
			want = append(want, fmt.Sprint(i, " ", j))
		}
		wait.Go(func() {
			for j := range each {
				if _, err := other.Append(bg, id, engine.Entry{Body: engine.Note{Text: fmt.Sprint(i, " ", j)}}); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wait.Wait()
	held(t, b, id, want)
}

// Programs that start at once on an empty database make its tables once.
func TestMigrationsUnderOneLock(t *testing.T) {
	url := empty(t)
	var started []*exec.Cmd
	for range 4 {
		c, _ := role(t, "open", url)
		started = append(started, c)
	}
	for _, c := range started {
		if err := c.Wait(); err != nil {
			t.Error(err)
		}
	}
	// And one step later, from a program that knows more.
	steps, err := readMigrations()
	if err != nil {
		t.Fatal(err)
	}
	more := append(steps, "CREATE TABLE step (done int); INSERT INTO step VALUES (1)")
	var wait sync.WaitGroup
	for range 4 {
		wait.Go(func() {
			b, err := Open(bg, url, Options{migrations: more})
			if err != nil {
				t.Error(err)
				return
			}
			b.Close()
		})
	}
	wait.Wait()
	_, err = Open(bg, url, Options{})
	if want := fmt.Sprintf("version %d, this program knows %d", len(steps)+1, len(steps)); err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("a newer casebook: %v", err)
	}
}

// The line breaks anywhere in a migration, from each older version and from none:
// the tables are as before or of the newest form, and every case is there.
func TestMigrationCut(t *testing.T) {
	s := throwaway.Shared(t)
	steps, err := readMigrations()
	if err != nil {
		t.Fatal(err)
	}
	for from := range steps {
		before, after := 0, 0
		for cut := int64(0); after < 2 && cut < 60_000; cut += 350 + cut/size.Of[int64](1, 3, 3) {
			database := s.Database(t)
			direct, want := s.URL(database), ""
			if from > 0 {
				b := open(t, direct, Options{migrations: steps[:from]})
				want = "26-0001"
				// Not write, which leaves marks as the program of today does.
				err := pgx.BeginFunc(bg, b.pool, func(tx pgx.Tx) error {
					_, err := b.openIn(bg, tx, engine.Opening{Unit: "northfork-4", At: contract.Steady()})
					return err
				})
				if err != nil {
					t.Fatal(err)
				}
				b.Close()
			}
			p := newProxy(t, s.Address())
			p.up.Store(cut)
			p.last.Store(cut%4 != 0) // mostly nothing answers after that
			b, err := Open(bg, throwaway.URL(p.l.Addr().String(), database), Options{Wait: 20 * time.Millisecond})
			switch {
			case err == nil:
				b.Close()
				after++
			case !errors.Is(err, engine.ErrUnreachable):
				t.Errorf("from %d, cut after %d bytes: %v", from, cut, err)
			default:
				before++
			}
			p.cut()
			b = open(t, direct, Options{})
			list, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{})
			if got := strings.Join(contract.IDs(list), " "); err != nil || got != want {
				t.Errorf("from %d, cut after %d bytes: %q, %v", from, cut, got, err)
			}
			if err := b.Check(bg); err != nil {
				t.Error(err)
			}
			b.Close()
		}
		if before < 3 || after < 2 {
			t.Errorf("from version %d: %d cut off, %d done: this shows nothing", from, before, after)
		}
	}
}

// The server crashes, again and again, while entries are written.
func TestServerRestarted(t *testing.T) {
	s, err := throwaway.Start()
	if err != nil {
		t.Fatal(err)
	}
	defer s.Stop()
	b := open(t, s.URL(s.Database(t)), Options{Wait: time.Minute})
	id := contract.OpenCase(t, b, engine.Opening{})
	stop := make(chan struct{})
	var want []string
	var wait sync.WaitGroup
	wait.Go(func() {
		for i := 0; ; i++ {
			select {
			case <-stop:
				return
			default:
			}
			text := fmt.Sprint("entry ", i)
			if _, err := b.Append(bg, id, engine.Entry{Body: engine.Note{Text: text}}); err != nil {
				t.Error(err)
				return
			}
			want = append(want, text)
		}
	})
	for i := range 3 {
		time.Sleep(100 * time.Millisecond)
		if err := s.Restart(i%2 == 0); err != nil {
			t.Error(err)
		}
	}
	close(stop)
	wait.Wait()
	if len(want) < 3 {
		t.Errorf("only %d entries written", len(want))
	}
	held(t, b, id, want)
}
