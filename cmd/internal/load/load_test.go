package load

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"slipcase/cmd/internal/answer"
)

var bg = context.Background()

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func code(err error) answer.Code {
	if err == nil {
		return ""
	}
	return answer.AsFailure(err).Code
}

const shopRule = `language = 1
reporter "apprentice" {
  basis "invented" {
    note = "a test"
  }
  hit         = 0.7
  false_alarm = 0.1
}
`

// What is loaded is kept until a byte of the shop's rules changes.
func TestKeptUntilARuleChanges(t *testing.T) {
	shop := t.TempDir()
	l := New(shop, true, nil)
	first, err := l.Load(bg, "harrow-3")
	if err != nil {
		t.Fatal(err)
	}
	again, _ := l.Load(bg, "harrow-3")
	if again != first {
		t.Error("the same rules were read twice")
	}
	write(t, filepath.Join(shop, "rules", "own.hcl"), shopRule)
	changed, err := l.Load(bg, "harrow-3")
	if err != nil {
		t.Fatal(err)
	}
	if changed == first || changed.Knowledge.Hash == first.Knowledge.Hash {
		t.Error("the shop's new rule is not read")
	}
	write(t, filepath.Join(shop, "rules", "own.hcl"), "language = 1\nnonsense {\n")
	if _, err := l.Load(bg, "harrow-3"); code(err) != answer.Rules {
		t.Errorf("broken rules: %v", err)
	}
}

// Many requests at once get one and the same knowledge, and one model of it.
func TestOneLoadForManyRequests(t *testing.T) {
	l := New(t.TempDir(), false, nil)
	var wg sync.WaitGroup
	got := make([]*Loaded, 8)
	models := make([]any, len(got))
	for i := range got {
		wg.Add(1)
		go func() {
			defer wg.Done()
			x, err := l.Load(bg, "harrow-3")
			if err != nil {
				t.Error(err)
				return
			}
			m, err := x.Model("harrow-3")
			if err != nil {
				t.Error(err)
			}
			got[i], models[i] = x, m
		}()
	}
	wg.Wait()
	for i := range got {
		if got[i] != got[0] || models[i] != models[0] {
			t.Fatal("loaded or compiled more than once")
		}
	}
}

func TestFailures(t *testing.T) {
	dir := t.TempDir()
	write(t, filepath.Join(dir, "a-file"), "x")
	write(t, filepath.Join(dir, "empty.hcl"), "language = 1\n")
	canceled, stop := context.WithCancel(bg)
	stop()
	none := New(filepath.Join(dir, "nothing"), false, nil)
	for _, c := range []struct {
		name string
		err  error
		want answer.Code
	}{
		{"unknown unit", second(none.Load(bg, "harow-3")), answer.NotFound},
		{"no unit named", third(none.Unit(bg, "")), answer.WrongUse},
		{"canceled", second(none.Load(canceled, "")), answer.Canceled},
		{"a shop that is a file", second(New(filepath.Join(dir, "a-file"), true, nil).Load(bg, "")), answer.Unavailable},
		{"a shop that is named and not there", second(New(filepath.Join(dir, "nothing"), true, nil).Load(bg, "")), answer.Unavailable},
		{"a unit file that is not there", third(none.Unit(bg, filepath.Join(dir, "mine.hcl"))), answer.Unavailable},
		{"a file without a unit", third(none.Unit(bg, filepath.Join(dir, "empty.hcl"))), answer.Rules},
		{"unknown demo", third(Demo("slip-one-gaer")), answer.NotFound},
	} {
		if code(c.err) != c.want {
			t.Errorf("%s: %v, want code %s", c.name, c.err, c.want)
		}
	}
	var f *answer.Failure
	if err := second(none.Load(bg, "harow-3")); !errors.As(err, &f) || f.Messages[0].Detail != "did you mean harrow-3?" {
		t.Errorf("no near name: %v", f)
	}
	if _, err := none.Load(bg, "harrow-3"); err != nil {
		t.Errorf("without a shop's folder: %v", err)
	}
}

func second[T any](_ T, err error) error        { return err }
func third[T, U any](_ T, _ U, err error) error { return err }

// A message can show the line that it is about: of what was read, of what is
// built in.
func TestSource(t *testing.T) {
	l := New(t.TempDir(), false, nil)
	l.Keep("typed", []byte("text"))
	if string(l.Source("typed")) != "text" || l.Source(BuiltIn+"/units/harrow-3.hcl") == nil || l.Source("no such file") != nil {
		t.Error("source texts")
	}
	if len(Demos()) < 10 {
		t.Error(Demos())
	}
	for _, name := range Demos() {
		if _, src, err := Demo(name); err != nil || len(src) == 0 {
			t.Error(name, err)
		}
	}
}

// Who asks for rules need not wait until they are read: a context that ends is
// told at once, and what was begun is there for the next.
func TestLoadIsLeftAtTheEndOfTheContext(t *testing.T) {
	l := New(t.TempDir(), false, nil)
	l.shelf = newShelf()
	// The look before loading begins is the only one.
	ctx := &ending{Context: t.Context(), ended: make(chan struct{})}
	close(ctx.ended)
	if x, err := l.Load(ctx, "harrow-3"); err == nil {
		select {
		case <-x.ready: // both ways were open
		default:
			t.Error("given before it was read")
		}
	} else if !errors.Is(err, context.Canceled) {
		t.Fatal(err)
	}
	l.shelf.mu.Lock()
	var begun *Loaded
	for _, x := range l.shelf.kept {
		begun = x
	}
	l.shelf.mu.Unlock()
	if x, err := l.Load(t.Context(), "harrow-3"); err != nil || x != begun {
		t.Errorf("read anew, %v", err)
	}
	never := make(chan struct{})
	defer close(never)
	if _, err := Meanwhile(ctx, func() int { <-never; return 1 }); !errors.Is(err, context.Canceled) {
		t.Errorf("meanwhile: %v", err)
	}
}

// ending has ended, but says so only to who waits for it.
type ending struct {
	context.Context
	ended  chan struct{}
	looked bool
}

func (e *ending) Done() <-chan struct{} { return e.ended }
func (e *ending) Err() error {
	if e.looked {
		return context.Canceled
	}
	e.looked = true
	return nil
}

// What loading panics with is a panic of who asked, so that it is told and not
// the end of the program; a panic leaves nothing behind that the next one waits
// for.
func TestPanicsReachWhoAsked(t *testing.T) {
	defer func() {
		if r := recover(); r != "broken" {
			t.Errorf("got %v", r)
		}
	}()
	Meanwhile(t.Context(), func() int { panic("broken") })
}
