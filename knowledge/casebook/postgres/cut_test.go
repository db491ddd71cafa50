package postgres

import (
	"errors"
	"fmt"
	"net"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"slipcase/engine"
	"slipcase/internal/size"
	"slipcase/knowledge/casebook/contract"
	"slipcase/knowledge/casebook/postgres/throwaway"
)

// proxy passes bytes between a casebook and its server, and cuts the line when
// so many have passed in a direction.
type proxy struct {
	l     net.Listener
	to    string
	up    atomic.Int64 // bytes that may still pass to the server
	down  atomic.Int64 // and back
	dead  atomic.Bool  // takes no call any more
	last  atomic.Bool  // a cut is the last of it
	mu    sync.Mutex
	lines []net.Conn
}

func newProxy(t *testing.T, to string) *proxy {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	p := &proxy{l: l, to: to}
	p.mend()
	go p.serve()
	t.Cleanup(func() { l.Close(); p.cut() })
	return p
}

func (p *proxy) mend() {
	p.up.Store(1 << 40)
	p.down.Store(1 << 40)
}

func (p *proxy) cut() {
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, c := range p.lines {
		c.Close()
	}
	p.lines = nil
}

func (p *proxy) serve() {
	for {
		c, err := p.l.Accept()
		if err != nil {
			return
		}
		s, err := net.Dial("tcp", p.to)
		if err != nil || p.dead.Load() {
			c.Close()
			continue
		}
		p.mu.Lock()
		p.lines = append(p.lines, c, s)
		p.mu.Unlock()
		go p.pass(s, c, &p.up)
		go p.pass(c, s, &p.down)
	}
}

func (p *proxy) pass(to, from net.Conn, left *atomic.Int64) {
	buf := make([]byte, 1<<12)
	for {
		n, err := from.Read(buf)
		if rest := left.Add(-int64(n)); rest < 0 {
			to.Write(buf[:max(0, int64(n)+rest)])
			p.mend() // the next line is whole
			if p.last.Load() {
				p.dead.Store(true)
			}
			p.cut()
			return
		}
		if _, e := to.Write(buf[:n]); e != nil || err != nil {
			to.Close()
			return
		}
	}
}

// The line is cut after every so many bytes, in both directions: in the middle
// of commands, of answers, and of the answer to a commit. No entry has a key.
func TestConnectionCut(t *testing.T) {
	s := throwaway.Shared(t)
	database := s.Database(t)
	p := newProxy(t, s.Address())
	b := open(t, throwaway.URL(p.l.Addr().String(), database), Options{Wait: 30 * time.Second})
	id := contract.OpenCase(t, b, engine.Opening{})
	var want []string
	for i := 0; i < 120; i += size.Of(7, 1, 1) {
		left := &p.up
		if i%2 == 0 {
			left = &p.down
		}
		left.Store(int64(7 * i))
		text := fmt.Sprint("entry ", i)
		if _, err := b.Append(bg, id, engine.Entry{Body: engine.Note{Text: text}}); err != nil {
			t.Fatal(err)
		}
		want = append(want, text)
		p.mend()
	}
	held(t, open(t, s.URL(database), Options{}), id, want)
}

// The answer to a commit is lost and the server cannot be asked: that is said.
func TestFateUnknown(t *testing.T) {
	s := throwaway.Shared(t)
	database := s.Database(t)
	p := newProxy(t, s.Address())
	b := open(t, throwaway.URL(p.l.Addr().String(), database), Options{Wait: 50 * time.Millisecond})
	contract.Append(t, b, contract.OpenCase(t, b, engine.Opening{}), engine.Note{Text: "entry 00"}) // prepares every statement
	id := contract.OpenCase(t, b, engine.Opening{})
	p.mend()
	contract.Append(t, b, id, engine.Note{Text: "entry 01"})
	whole := 1<<40 - p.down.Load() // of an answer
	cuts := []int64{1, 2, 9, 17, 18, 19, 25, 40}
	for c := int64(100); c < whole; c += size.Of[int64](400, 150, 150) {
		cuts = append(cuts, c)
	}
	unknown, sure := 0, 0
	for _, before := range cuts {
		id := contract.OpenCase(t, b, engine.Opening{})
		contract.Append(t, b, id) // the line stands
		p.dead.Store(true)
		p.down.Store(whole - before)
		text := "entry 99"
		_, err := b.Append(bg, id, engine.Entry{Body: engine.Note{Text: text}})
		p.dead.Store(false)
		p.mend()
		in := 0
		for _, e := range contract.Get(t, b, id).Entries {
			if e.Body == (engine.Note{Text: text}) {
				in++
			}
		}
		switch {
		case err == nil && in != 1, in > 1:
			t.Errorf("cut %d bytes before the end: %q is there %d times after %v", before, text, in, err)
		case errors.Is(err, engine.ErrUncertain):
			unknown++
		case err != nil && in != 0:
			t.Errorf("cut %d bytes before the end: %q is there after %v", before, text, err)
		case err == nil:
		case !errors.Is(err, engine.ErrUnreachable):
			t.Errorf("not the error for a lost server: %v", err)
		default:
			sure++
		}
		if err != nil && strings.Contains(err.Error(), throwaway.Password) {
			t.Errorf("the password is in %v", err)
		}
	}
	if unknown == 0 || sure == 0 {
		t.Errorf("%d of unknown fate, %d surely not written: both must be met", unknown, sure)
	}
}

// The answer to a commit is lost, and the server is there to be asked: the
// entry is there once.
func TestAnswerToCommitLost(t *testing.T) {
	s := throwaway.Shared(t)
	p := newProxy(t, s.Address())
	b := open(t, throwaway.URL(p.l.Addr().String(), s.Database(t)), Options{Wait: 30 * time.Second})
	write := func() (id string) {
		id = contract.OpenCase(t, b, engine.Opening{})
		p.mend()
		return id
	}
	contract.Append(t, b, write(), engine.Note{Text: "prepares every statement"})
	id := write()
	contract.Append(t, b, id, engine.Note{Text: "once"})
	whole := 1<<40 - p.down.Load()
	for before := int64(1); before < 40; before += size.Of[int64](6, 1, 1) {
		contract.Append(t, b, write(), engine.Note{Text: "prepares them again"})
		id := write()
		p.down.Store(whole - before)
		contract.Append(t, b, id, engine.Note{Text: "once"})
		p.mend()
		held(t, b, id, []string{"once"})
	}
}

// All cases are read in the same few questions however many there are, and once
// each wherever the line breaks meanwhile.
func TestEachOverTheLine(t *testing.T) {
	s := throwaway.Shared(t)
	database := s.Database(t)
	p := newProxy(t, s.Address())
	b := open(t, throwaway.URL(p.l.Addr().String(), database), Options{Wait: 30 * time.Second})
	var want []string
	more := func(n int) {
		for range n {
			id := contract.OpenCase(t, b, engine.Opening{Words: strings.Repeat("slips ", 50)})
			contract.Append(t, b, id, engine.Note{Text: "entry"})
			want = append(want, id)
		}
	}
	read := func(left *atomic.Int64, bytes int64) int64 {
		t.Helper()
		p.mend()
		if bytes > 0 {
			left.Store(bytes)
		}
		before := left.Load()
		var got []string
		err := b.Each(bg, "", func(c engine.CaseRecord, _ int) error {
			if got = append(got, c.ID); len(c.Entries) != 1 {
				t.Errorf("case %s has %d entries", c.ID, len(c.Entries))
			}
			return nil
		})
		if err != nil || !slices.Equal(got, want) {
			t.Fatalf("line cut after %d bytes: %v, %d cases of %d", bytes, err, len(got), len(want))
		}
		return before - left.Load()
	}
	more(5)
	read(&p.up, 0) // prepares every statement
	few := read(&p.up, 0)
	more(60)
	// Eight bytes of each go up again, its row, and what says how many they are.
	if many := read(&p.up, 0); many > few+16*60 {
		t.Errorf("%d bytes of questions for 65 cases, %d for 5", many, few)
	}
	whole := read(&p.down, 0)
	for i := int64(0); i < 20; i += size.Of[int64](7, 1, 1) {
		read(&p.down, whole*(i+1)/21)
	}
	old := batch
	batch = 7
	defer func() { batch = old }()
	for i := int64(0); i < 20; i += size.Of[int64](7, 1, 1) {
		read(&p.down, whole*(i+1)/21)
	}
}

// A line that is dead but not closed: the server still holds the transaction.
func TestFateOfOpenTransaction(t *testing.T) {
	b := open(t, empty(t), Options{})
	tx, err := b.pool.Begin(bg)
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback(bg)
	m := mark{n: 7}
	if err := tx.QueryRow(bg, "INSERT INTO marks VALUES (7) RETURNING pg_backend_pid(), at").Scan(&m.pid, &m.at); err != nil {
		t.Fatal(err)
	}
	if kept, err := b.fate(bg, m); err != nil || kept {
		t.Errorf("kept %v, %v", kept, err)
	}
	if err := tx.Commit(bg); err == nil {
		t.Error("it was given up for lost, and kept all the same")
	}
	if _, err := b.pool.Exec(bg, "INSERT INTO marks VALUES (8)"); err != nil {
		t.Fatal(err)
	}
	m.n = 8
	if kept, err := b.fate(bg, m); err != nil || !kept {
		t.Errorf("of one that was kept: %v, %v", kept, err)
	}
	// Who asks after the mark may have been pruned is not told that it was not kept.
	m.n, m.at = 9, m.at.Add(-keepMarks-time.Hour)
	if kept, err := b.fate(bg, m); kept || !errors.Is(err, errTooLate) {
		t.Errorf("of one long ago: %v, %v", kept, err)
	}
}

// Marks are pruned once nobody can ask for them: by the first write of a program
// and every hour after, however many there are.
func TestMarksArePruned(t *testing.T) {
	url := empty(t)
	b := open(t, url, Options{})
	if _, err := b.pool.Exec(bg, "INSERT INTO marks SELECT n, now() - make_interval(hours => n) FROM generate_series(1, 48) n"); err != nil {
		t.Fatal(err)
	}
	count := func() (n, oldest int) {
		t.Helper()
		if err := b.pool.QueryRow(bg, "SELECT count(*), extract(epoch FROM now() - min(at))::int / 3600 FROM marks").Scan(&n, &oldest); err != nil {
			t.Fatal(err)
		}
		return n, oldest
	}
	id := contract.OpenCase(t, b, engine.Opening{})
	if n, oldest := count(); n != 24 || oldest > 23 {
		t.Errorf("%d marks, the oldest of %d hours; want those of 23 hours and that of the write", n, oldest)
	}
	if _, err := b.pool.Exec(bg, "INSERT INTO marks VALUES (99, now() - interval '2 days')"); err != nil {
		t.Fatal(err)
	}
	contract.Append(t, b, id, engine.Note{Text: "soon after"})
	if _, oldest := count(); oldest != 48 {
		t.Errorf("looked again at once: the oldest is of %d hours", oldest)
	}
	b.pruned.Add(-int64(pruneEvery))
	contract.Append(t, b, id, engine.Note{Text: "an hour later"})
	if n, oldest := count(); n != 26 || oldest > 23 {
		t.Errorf("an hour later: %d marks, the oldest of %d hours", n, oldest)
	}
}
