//go:build !windows

package cli

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"

	"slipcase/cmd/internal/table"
)

// terminal runs the real program on a pseudo-terminal that shows what comes
// and answers nothing: many terminals do not know the questions that programs
// put to them.
type terminal struct {
	t      *testing.T
	cmd    *exec.Cmd
	tty    *os.File
	mu     sync.Mutex
	raw    bytes.Buffer // all that came
	screen *vt.Emulator
	eof    chan struct{} // closed when all is read
}

func onTerminal(t *testing.T, home string, rows, cols uint16, args ...string) *terminal {
	t.Helper()
	cmd := exec.Command("slipcase", args...)
	cmd.Env = append(os.Environ(), "SLIPCASE_HOME="+home, "TERM=xterm", "NO_COLOR=1", "CI=")
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: rows, Cols: cols})
	if err != nil {
		t.Fatal(err)
	}
	x := &terminal{t: t, cmd: cmd, tty: tty, screen: vt.NewEmulator(int(cols), int(rows)), eof: make(chan struct{})}
	go io.Copy(io.Discard, x.screen) // its answers go nowhere
	go func() {
		defer close(x.eof)
		buf := make([]byte, 4096)
		for {
			n, err := tty.Read(buf)
			x.mu.Lock()
			x.raw.Write(buf[:n])
			x.screen.Write(buf[:n])
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

// text is what stands on the screen.
func (x *terminal) text() string {
	x.mu.Lock()
	defer x.mu.Unlock()
	var lines []string
	for _, l := range strings.Split(x.screen.String(), "\n") {
		lines = append(lines, strings.TrimRight(l, " "))
	}
	return strings.TrimRight(strings.Join(lines, "\n"), "\n") + "\n"
}

// wait waits until a text stands on the screen, and gives all of it.
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

// question waits for a question by its number, with the keys under it.
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

// send types keys.
func (x *terminal) send(keys string) {
	x.t.Helper()
	if _, err := x.tty.Write([]byte(keys)); err != nil {
		x.t.Fatal(err)
	}
}

func (x *terminal) resize(rows, cols uint16) {
	x.t.Helper()
	x.mu.Lock()
	x.screen.Resize(int(cols), int(rows))
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
	slipcase(t, home, "open", "--unit", "harrow-3", "--title", "Gray van")
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
	for _, want := range []string{"Is this what the driver means?", "> [ ] slips in D/3", "[ ] D/2 is good"} {
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
	if end := x.ends(exitDone); !strings.Contains(strings.Join(strings.Fields(end), " "), "1 question asked") {
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
	// One line of it is ruled out by itself; the others were not asked.
	x.send("n")
	x.wait("Which of these are ruled out?")
	x.send(" \r")
	x.question(2)
	x.send("?")
	x.question(3)
	x.send("s")
	third := asked(t, x.question(4))
	if err := x.cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	<-x.eof

	x = onTerminal(t, home, 24, 80, "interview")
	if got := asked(t, x.question(4)); !sameQuestion(got, third) {
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
	if n := strings.Count(book, `"absent"`); n != 1 {
		t.Errorf("%d lines are ruled out, of one that was marked so:\n%s", n, book)
	}
	if regexp.MustCompile(`"slips@D/2"[^}]*"absent"`).MatchString(book) {
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
	x.wait("questions.\n>")
	x.send("\n")
	x.wait("\n1. ")
	x.send("?\n")
	x.wait("\n2. ")
	x.send(ctrlC)
	if end := x.ends(exitDone); !strings.Contains(end, "1 question asked") {
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

// queries are what makes a terminal answer: cursor position, device
// attributes, colors, modes, terminal strings.
var queries = regexp.MustCompile(`\x1b\[[0-9;?>=]*[nc]|\x1b\[\?[0-9;]*\$p|\x1b\][0-9;]+\?|\x1bP[^\x1b]*|\x1b\[>[0-9]*q|\x1b\[\?u`)

// No command asks anything of the terminal or moves its cursor, but for the
// form of the interview, which does not wait for an answer to its first
// picture.
func TestCommandsAskNothingOfTheTerminal(t *testing.T) {
	t.Parallel()
	for _, c := range (&app{}).root().Commands() {
		name := c.Name()
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			args := []string{name}
			switch name {
			case "suspects", "next", "plan":
				args = append(args, "--demo", "slip-one-gear")
			case "chart":
				args = append(args, "harrow-3")
			case "check":
				args = append(args, "--no-examples")
			case "completion":
				args = append(args, "bash")
			case "trial":
				args = append(args, "harrow-3", "--cases", "1", "--calibration")
			case "interview":
				args = append(args, "--demo", "no-reverse", "--plain")
			case "bench":
				args = append(args, "--port", "0")
			}
			x := onTerminal(t, t.TempDir(), 24, 80, args...)
			if name == "interview" {
				x.wait("\n>")
				x.send("quit\n")
			}
			if name == "bench" {
				x.wait("Ctrl-C ends it")
				x.send("\x03")
			}
			if name == "fmt" || name == "import" {
				x.send("\x04") // standard input ends
			}
			<-x.eof
			x.cmd.Wait()
			if got := x.raw.String(); strings.Contains(got, "\x1b") || len(got) == 0 {
				t.Errorf("%v sends %q", args, got)
			}
		})
	}
}

// The form comes up on a terminal that answers nothing; see queries for what
// would be asked. Its first picture is there before any answer could be.
func TestFormDoesNotWaitForTheTerminal(t *testing.T) {
	t.Parallel()
	x := onTerminal(t, openCase(t), 24, 80, "interview")
	x.wait("What does the driver say?")
	x.mu.Lock()
	raw := x.raw.String()
	x.mu.Unlock()
	before, _, _ := strings.Cut(raw, "What does")
	t.Logf("asked: %q", queries.FindAllString(raw, -1))
	if strings.Contains(before, "\x1b[6n") || strings.Contains(before, "\x1b]11;?") {
		t.Errorf("it asks for cursor or color before it shows anything: %q", before)
	}
	x.send(ctrlC)
	x.ends(exitDone)
}

// An interrupt ends a command that computes, with the code for it; the
// terminal is as it was.
func TestInterruptEndsTheCommand(t *testing.T) {
	t.Parallel()
	x := onTerminal(t, t.TempDir(), 24, 80, "trial", "northfork-4", "--cases", "100000", "--json")
	x.wait("vehicles: 0 of 100000")
	x.send(ctrlC)
	if got := x.ends(exitFailed); !strings.Contains(got, `"canceled"`) {
		t.Errorf("it says:\n%s", got)
	}
}
