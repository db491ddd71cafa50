package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"slipcase/engine"
	"slipcase/internal/size"
	"slipcase/knowledge/casebook/sqlite"
)

// stopShop is a shop whose commands are stopped at any moment: its data folder,
// and what its casebook is known to hold.
type stopShop struct {
	t     *testing.T
	home  string
	known map[string][]string // entries by case, as JSON
}

// look reads the casebook, and checks that it is sound and that nothing is gone
// from it. It gives how many entries there are more than before in all, and how
// many cases.
func (s *stopShop) look(what string) (entries, cases int) {
	s.t.Helper()
	b, err := sqlite.Open(s.t.Context(), filepath.Join(s.home, "casebook.db"), sqlite.Options{MustExist: true})
	if err != nil {
		s.t.Fatalf("%s: %v", what, err)
	}
	defer b.Close()
	if err := b.Check(s.t.Context()); err != nil {
		s.t.Errorf("%s: the casebook is not sound: %v", what, err)
	}
	now := map[string][]string{}
	err = b.Each(s.t.Context(), "", func(c engine.CaseRecord, _ int) error {
		now[c.ID] = []string{}
		for _, e := range c.Entries {
			text, err := json.Marshal(e)
			if err != nil {
				return err
			}
			now[c.ID] = append(now[c.ID], string(text))
		}
		return nil
	})
	if err != nil {
		s.t.Fatalf("%s: %v", what, err)
	}
	for id, was := range s.known {
		is, ok := now[id]
		if !ok || len(is) < len(was) || !slices.Equal(is[:len(was)], was) {
			s.t.Errorf("%s: case %s was\n%s\nand is\n%s", what, id, strings.Join(was, "\n"), strings.Join(is, "\n"))
		}
		entries -= len(was)
	}
	for _, is := range now {
		entries += len(is)
	}
	cases = len(now) - len(s.known)
	s.known = now
	return entries, cases
}

// begin opens a case without the program, for the command to work on.
func (s *stopShop) begin() string {
	s.t.Helper()
	b, err := sqlite.Open(s.t.Context(), filepath.Join(s.home, "casebook.db"), sqlite.Options{})
	if err != nil {
		s.t.Fatal(err)
	}
	defer b.Close()
	id, err := b.OpenCase(s.t.Context(), engine.Opening{Unit: "harrow-3", Title: "slips in second"})
	if err != nil {
		s.t.Fatal(err)
	}
	return id
}

// run runs a command that gets a signal after a while; none for a negative while.
// The code is -1 where the signal ended the process before it listened.
func (s *stopShop) run(after time.Duration, sig os.Signal, args ...string) (code int, said string, took time.Duration) {
	s.t.Helper()
	ctx, cancel := context.WithTimeout(s.t.Context(), 2*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, "slipcase", args...)
	cmd.Env = append(os.Environ(), "SLIPCASE_HOME="+s.home, "SLIPCASE_BOOK=", "NO_COLOR=1")
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	from := time.Now()
	if err := cmd.Start(); err != nil {
		s.t.Fatal(err)
	}
	if after >= 0 {
		time.Sleep(after)
		cmd.Process.Signal(sig) // it may be done
	}
	err := cmd.Wait()
	took = time.Since(from)
	if ctx.Err() != nil {
		s.t.Fatalf("%v did not end", args)
	}
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		s.t.Fatal(err)
	}
	return cmd.ProcessState.ExitCode(), strings.Join(strings.Fields(out.String()), " "), took
}

// rules are the files of the shop's rules, without the journal of learning and
// its lock.
func (s *stopShop) rules() map[string]string {
	s.t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(filepath.Join(s.home, "rules"), func(p string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(p) != ".hcl" {
			return err
		}
		b, err := os.ReadFile(p)
		out[filepath.Base(p)] = string(b)
		return err
	})
	if err != nil && !os.IsNotExist(err) {
		s.t.Fatal(err)
	}
	return out
}

// export is an export of n cases, closed as fixed, whose ids begin at a number: in
// all of them the fluid had never been changed. All are invented.
func export(n, from int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "{\"kind\":\"casebook\",\"format\":1,\"cases\":%d,\"entries\":%d}\n", n, 4*n)
	for i := range n {
		id := fmt.Sprintf("25-%04d", from+i)
		fmt.Fprintf(&b, `{"kind":"case","id":%q,"unit":"harrow-3","title":"Slips in second","at":"2025-01-02T08:00:00Z"}
{"kind":"report","case":%q,"seq":1,"body":{"finding":"slips@D/2","state":"present","by":"driver"}}
{"kind":"seen","case":%q,"seq":2,"body":{"component":"front_servo","mode":"servo_seal_cut"}}
{"kind":"settled_cause","case":%q,"seq":3,"body":{"cause":"neglected_fluid","present":true}}
{"kind":"close","case":%q,"seq":4,"body":{"outcome":"fixed"}}
`, id, id, id, id, id)
	}
	return b.String()
}

// Commands that write get an interrupt or a termination at any moment. What was
// acknowledged is there, what was not is there whole or not at all, the casebook is
// sound, the rules are as they were or as they were learned, and what is said is so:
// exit 0 only for what was written, and else that it could not confirm.
func TestSignalsAtAnyMoment(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no process of Windows can be sent a signal alone")
	}
	const seed = 27
	kills := size.Of(5, 56, 210)
	rng := rand.New(rand.NewPCG(seed, uint64(kills)))
	// What is learned depends on the cases: a shop of its own, whose cases stay.
	working := &stopShop{t: t, home: t.TempDir(), known: map[string][]string{}}
	learning := &stopShop{t: t, home: t.TempDir(), known: map[string][]string{}}
	file := filepath.Join(t.TempDir(), "cases.jsonl")
	write := func(n, from int) {
		if err := os.WriteFile(file, []byte(export(n, from)), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write(8, 1)
	for _, s := range []*stopShop{working, learning} {
		if code, said, _ := s.run(-1, nil, "import", file); code != exitDone {
			t.Fatal(said)
		}
		s.look("import")
	}
	shop := func(command string) *stopShop {
		if command == "learn" {
			return learning
		}
		return working
	}
	given := 100 // numbers of cases that imports have used
	type command struct {
		name           string
		args           func(id string) []string
		entries, cases int // that it writes
	}
	in := func(args ...string) func(string) []string {
		return func(id string) []string { return append(slices.Clone(args), "--in", id) }
	}
	commands := []command{
		{"open", func(string) []string { return []string{"open", "--unit", "harrow-3", "--title", "stopped"} }, 0, 1},
		{"note", in("note", "slips@D/2", "slips@D/3=no", "flare@D/1-2=no"), 3, 0},
		{"done", in("done", "pan_off"), 1, 0},
		{"settle", in("settle", "neglected_fluid", "yes"), 1, 0},
		{"close", in("close", "abandoned"), 1, 0},
		{"import", func(string) []string {
			write(5, given)
			given += 5
			return []string{"import", file}
		}, 20, 5},
		{"learn", func(string) []string { return []string{"learn", "--apply", "--anyway"} }, 0, 0},
	}
	usual := map[string]time.Duration{}
	var learned map[string]string
	for _, c := range commands { // once without a signal
		s := shop(c.name)
		id := s.begin()
		s.look("begin")
		code, said, took := s.run(-1, nil, c.args(id)...)
		entries, cases := s.look(c.name)
		if code != exitDone || entries != c.entries || cases != c.cases {
			t.Fatalf("%s: exit %d, %d entries and %d cases written: %s", c.name, code, entries, cases, said)
		}
		usual[c.name] = took
		if c.name == "learn" {
			if learned = s.rules(); len(learned) == 0 {
				t.Fatalf("nothing was learned: %s", said)
			}
			if code, said, _ := s.run(-1, nil, "learn", "--undo"); code != exitDone {
				t.Fatal(said)
			}
		}
	}
	ended := map[string]int{}
	for i := range kills {
		c := commands[i%len(commands)]
		s := shop(c.name)
		id := s.begin()
		s.look("begin")
		sig := []os.Signal{os.Interrupt, syscall.SIGTERM}[rng.IntN(2)]
		after := time.Duration(rng.Float64() * 1.1 * float64(usual[c.name]))
		what := fmt.Sprintf("seed %d, kill %d: %s, %v after %v", seed, i, c.name, sig, after.Round(time.Millisecond))
		code, said, _ := s.run(after, sig, c.args(id)...)
		entries, cases := s.look(what)
		all, none := entries == c.entries && cases == c.cases, entries == 0 && cases == 0
		how := ""
		switch {
		case !all && !none:
			t.Errorf("%s: %d entries and %d cases are there, by halves: %s", what, entries, cases, said)
		case code == exitDone && all:
			how = "done"
		case code == exitFailed && strings.Contains(said, "stopped before it could confirm"):
			how = map[bool]string{true: "told, written", false: "told, nothing written"}[all && c.entries+c.cases > 0]
		case code == -1 && said == "":
			how = "ended by the signal"
			if !none {
				t.Errorf("%s: written before it listened", what)
			}
		default:
			t.Errorf("%s: exit %d, all of it written %v, none %v: %s", what, code, all, none, said)
		}
		ended[how]++
		if c.name != "learn" {
			continue
		}
		for name, text := range s.rules() {
			if text != learned[name] {
				t.Errorf("%s: %s is neither as it was nor as it was learned:\n%s", what, name, text)
			}
		}
		if code, said, _ := s.run(-1, nil, "learn", "--undo"); code != exitDone && !strings.Contains(said, "no learned number was written") {
			t.Errorf("%s: taking it back: exit %d: %s", what, code, said)
		}
		if left := s.rules(); len(left) > 0 {
			t.Errorf("%s: left in the shop's rules: %v", what, left)
		}
	}
	t.Logf("%d signals: %v", kills, ended)
	for _, s := range []*stopShop{working, learning} {
		if code, said, _ := s.run(-1, nil, "cases", "check"); code != exitDone {
			t.Errorf("cases check: exit %d: %s", code, said)
		}
	}
}
