//go:build !windows

package cli

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/creack/pty"

	"slipcase/cmd/internal/table"
)

// terminal runs the real program on a pseudo-terminal.
type terminal struct {
	t    *testing.T
	cmd  *exec.Cmd
	tty  *os.File
	mu   sync.Mutex
	seen bytes.Buffer  // all that came, raw
	from int           // where the next look begins
	eof  chan struct{} // closed when all is read
}

func onTerminal(t *testing.T, home string, rows, cols uint16, args ...string) *terminal {
	t.Helper()
	cmd := exec.Command("slipcase", args...)
	cmd.Env = append(os.Environ(), "SLIPCASE_HOME="+home, "TERM=xterm", "NO_COLOR=1")
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: rows, Cols: cols})
	if err != nil {
		t.Fatal(err)
	}
	x := &terminal{t: t, cmd: cmd, tty: tty, eof: make(chan struct{})}
	go func() {
		defer close(x.eof)
		buf := make([]byte, 4096)
		for {
			n, err := tty.Read(buf)
			x.mu.Lock()
			x.seen.Write(buf[:n])
			x.mu.Unlock()
			if err != nil {
				return
			}
		}
	}()
	t.Cleanup(func() {
		cmd.Process.Kill()
		tty.Close()
	})
	return x
}

// escapes are the codes that move the cursor, clear and switch modes.
var escapes = regexp.MustCompile(`\x1b\[[0-9;?]*[A-Za-z]|\x1b\][^\x07\x1b]*(\x07|\x1b\\)|\x1b[=>]|\r`)

// text is what came since the last look, without codes.
func (x *terminal) text() string {
	x.mu.Lock()
	defer x.mu.Unlock()
	return escapes.ReplaceAllString(string(x.seen.Bytes()[x.from:]), "")
}

// wait waits until a text has come, and gives all that came since the last.
// The time only keeps a broken program from hanging the test.
func (x *terminal) wait(want string) string {
	x.t.Helper()
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		got := x.text()
		if strings.Contains(got, want) {
			return got
		}
		select {
		case <-x.eof:
			x.t.Fatalf("the program ended without %q; it showed\n%s", want, x.text())
		default:
		}
	}
	x.t.Fatalf("no %q; the screen showed\n%s", want, x.text())
	return ""
}

// question waits for a question by its number, painted to the foot: the form
// paints the one before it more than once.
func (x *terminal) question(n int) string {
	x.t.Helper()
	head := fmt.Sprintf("Question %d", n)
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		got := x.text()
		if i := strings.Index(got, head); i >= 0 && strings.Contains(got[i:], foot) {
			return got
		}
	}
	x.t.Fatalf("no question %d; the screen showed\n%s", n, x.text())
	return ""
}

// send types keys. What came before is not looked at again.
func (x *terminal) send(keys string) {
	x.t.Helper()
	x.mu.Lock()
	x.from = x.seen.Len()
	x.mu.Unlock()
	if _, err := x.tty.Write([]byte(keys)); err != nil {
		x.t.Fatal(err)
	}
}

func (x *terminal) resize(rows, cols uint16) {
	x.t.Helper()
	x.mu.Lock()
	x.from = x.seen.Len()
	x.mu.Unlock()
	if err := pty.Setsize(x.tty, &pty.Winsize{Rows: rows, Cols: cols}); err != nil {
		x.t.Fatal(err)
	}
}

// ends waits for the end of the program and gives what it showed last.
func (x *terminal) ends(code int) string {
	x.t.Helper()
	<-x.eof
	x.cmd.Wait()
	if got := x.cmd.ProcessState.ExitCode(); got != code {
		x.t.Fatalf("exit code %d, want %d:\n%s", got, code, x.text())
	}
	return x.text()
}

const ctrlC = "\x03"

// The keys at the foot are painted last.
const foot = "q leave"

func openCase(t *testing.T) (home string) {
	t.Helper()
	home = t.TempDir()
	slipcase(t, home, "open", "--unit", "harrow-3", "--title", "Slips in third")
	return home
}

func slipcase(t *testing.T, home string, args ...string) string {
	t.Helper()
	cmd := exec.Command("slipcase", args...)
	cmd.Env = append(os.Environ(), "SLIPCASE_HOME="+home)
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %v\n%s", args, err, out)
	}
	return string(out)
}

// asked is the question on the screen.
func asked(t *testing.T, screen string) string {
	t.Helper()
	_, rest, ok := strings.Cut(screen[max(0, strings.LastIndex(screen, "Question ")):], "┃ ")
	if !ok {
		t.Fatalf("no question on the screen:\n%s", screen)
	}
	line, _, _ := strings.Cut(rest, "\n")
	return strings.TrimSpace(line)
}

// The form: complaint confirmed, resized, left by Ctrl-C, resumed at the next
// question, killed, resumed again. Nothing that was answered is asked again.
func TestFormOnATerminal(t *testing.T) {
	t.Parallel()
	home := openCase(t)
	x := onTerminal(t, home, 24, 80, "interview")
	x.wait("What does the driver say?")
	x.wait("ctrl+c leaves")
	x.send("it slips in third, second is fine\r")
	screen := x.wait("q leaves")
	for _, want := range []string{"Is this what the driver means?", "> [ ] slips in D/3", "[ ] no slips in D/2"} {
		if !strings.Contains(screen, want) {
			t.Errorf("no %q on the screen:\n%s", want, screen)
		}
	}
	x.send(" \r") // the first is meant, the second is left out
	screen = x.question(1)
	if !strings.Contains(screen, "Leading: ") {
		t.Errorf("the first question:\n%s", screen)
	}
	first := asked(t, screen)

	x.resize(20, 50)
	// The last picture, from its first line to its foot, fits.
	fits := func() bool {
		got := x.text()
		i := strings.LastIndex(got, "Case ")
		if i < 0 || !strings.Contains(got[i:], foot) || !strings.Contains(got[i:], "Question 1") {
			return false
		}
		for _, l := range strings.Split(got[i:], "\n") {
			if table.Width(l) > 50 {
				return false
			}
		}
		return true
	}
	for end := time.Now().Add(time.Minute); !fits(); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("no picture of 50 columns after the resize:\n%s", x.text())
		}
	}

	x.send("\r")
	second := asked(t, x.question(2))
	x.send(ctrlC)
	if end := x.ends(exitDone); !strings.Contains(strings.Join(strings.Fields(end), " "), "1 question put, all answers are kept") {
		t.Errorf("after Ctrl-C:\n%s", end)
	}

	x = onTerminal(t, home, 24, 80, "interview")
	screen = x.question(2)
	if strings.Contains(screen, "What does the driver say?") {
		t.Errorf("resumed:\n%s", screen)
	}
	if got := asked(t, screen); !sameQuestion(got, second) || sameQuestion(got, first) {
		t.Errorf("resumed at %q, left at %q", got, second)
	}
	// Back to the first, changed; then the second is still open.
	x.send("b")
	if got := asked(t, x.question(1)); !sameQuestion(got, first) {
		t.Errorf("back at %q, not %q", got, first)
	}
	x.send("?")
	x.question(2)
	x.send("s")
	third := asked(t, x.question(3))
	if err := x.cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	<-x.eof

	x = onTerminal(t, home, 24, 80, "interview")
	if got := asked(t, x.question(3)); !sameQuestion(got, third) {
		t.Errorf("after the kill at %q, not %q", got, third)
	}
	x.send("q")
	x.ends(exitDone)
	book := slipcase(t, home, "export", "-")
	for _, want := range []string{`"slips@D/3"`, "The driver says: it slips in third", `"unknown"`, `"skipped"`} {
		if !strings.Contains(book, want) {
			t.Errorf("the casebook has no %s:\n%s", want, book)
		}
	}
	if strings.Contains(book, `"slips@D/2"`) {
		t.Error("what was not confirmed was taken over")
	}
}

// sameQuestion compares the beginnings: the screen's width breaks the rest.
func sameQuestion(a, b string) bool {
	n := min(len(a), len(b), 30)
	return a[:n] == b[:n]
}

// Plain lines on a terminal: Ctrl-C keeps what was answered.
func TestPlainOnATerminal(t *testing.T) {
	t.Parallel()
	home := openCase(t)
	x := onTerminal(t, home, 24, 80, "interview", "--plain")
	x.wait("to the questions.\n> ")
	x.send("\n")
	x.wait("\n1. ")
	x.wait("> ")
	x.send("?\n")
	x.wait("\n2. ")
	x.send(ctrlC)
	if end := x.ends(exitDone); !strings.Contains(end, "1 question put") {
		t.Errorf("after Ctrl-C:\n%s", end)
	}
	x = onTerminal(t, home, 24, 80, "interview", "--plain")
	x.wait("\n2. ")
	x.send("quit\n")
	x.ends(exitDone)
}

// A terminal that cannot move its cursor gets plain lines.
func TestDumbTerminal(t *testing.T) {
	t.Parallel()
	home := openCase(t)
	cmd := exec.Command("slipcase", "interview")
	cmd.Env = append(os.Environ(), "SLIPCASE_HOME="+home, "TERM=dumb")
	tty, err := pty.Start(cmd)
	if err != nil {
		t.Fatal(err)
	}
	defer tty.Close()
	tty.Write([]byte("quit\n"))
	var out bytes.Buffer
	out.ReadFrom(tty)
	cmd.Wait()
	if !strings.Contains(out.String(), "Answer with the numbers") || strings.Contains(out.String(), "\x1b[?1049h") {
		t.Errorf("%q", out.String())
	}
}
