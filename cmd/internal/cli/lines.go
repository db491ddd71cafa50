package cli

import (
	"bufio"
	"fmt"
	"os"
	"os/signal"
	"strconv"
	"strings"
	"syscall"

	"golang.org/x/term"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/talk"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

// plainTalk is an interview in plain lines: a question, then a line with the answer.
type plainTalk struct {
	a     *app
	x     *talk.Interview
	p     *table.Page
	lines <-chan string // closed at the end of the input
	stop  <-chan os.Signal
	echo  bool // the input is no terminal: show what was read
}

// interviewLines puts the questions of an interview in plain lines. The end of
// the input and an interrupt leave it, as "quit" does.
func (a *app) interviewLines(x *talk.Interview) error {
	lines := make(chan string)
	go func() {
		defer close(lines)
		r := bufio.NewReader(a.in) // of lines of any length
		for {
			line, err := r.ReadString('\n')
			if line != "" {
				lines <- strings.TrimRight(line, "\r\n")
			}
			if err != nil {
				return
			}
		}
	}()
	stop := make(chan os.Signal, 1)
	signal.Notify(stop, os.Interrupt, syscall.SIGTERM)
	defer signal.Stop(stop)
	in, ok := a.in.(*os.File)
	t := &plainTalk{a: a, x: x, p: a.page(), lines: lines, stop: stop, echo: !ok || !term.IsTerminal(int(in.Fd()))}
	t.p.Para("%s", caseWords(x.Case()))
	t.p.Para("%s", lineHelp)
	if err := t.run(); err != nil {
		return err
	}
	t.p.Space()
	return x.Leave()
}

const lineHelp = "Answer with the numbers of what applies; what you do not name is not asked. \"1, rest fine\" rules the others out, none all of them, -3 number 3 alone; ?3 when the driver does not know; \"never 2 L\" for positions never used. An empty line skips; back; quit keeps everything."

// ask reads one line; false when there is none any more.
func (t *plainTalk) ask(prompt string) (string, bool) {
	if t.p.Err() != nil {
		return "", false
	}
	fmt.Fprint(t.a.out, prompt+"> ")
	select {
	case <-t.stop:
		fmt.Fprintln(t.a.out)
		return "", false
	case line, ok := <-t.lines:
		if t.echo || !ok {
			fmt.Fprintln(t.a.out, line)
		}
		return strings.TrimSpace(line), ok
	}
}

// outcome is how a question was left.
type outcome int

const (
	answered outcome = iota
	goBack
	leave
	goOn // past the end of the questions
)

func (t *plainTalk) run() error {
	if !t.x.Begun() {
		if out, err := t.complaint(); out == leave || err != nil {
			return err
		}
	}
	q, stop, err := t.x.Next()
	for {
		out := goBack
		switch {
		case err != nil && talk.Clash(err):
			// Only another answer mends it.
			t.a.complain(answer.AsFailure(err).Messages)
			err = nil
		case err != nil:
			return err
		case stop != nil:
			out = t.stopped(stop)
		default:
			out, err = t.question(q)
			if err != nil {
				return err
			}
		}
		switch out {
		case leave:
			return nil
		case answered:
			q, stop, err = t.x.Next()
		case goOn:
			q, stop, err = t.x.GoOn()
		case goBack:
			before := t.x.Back()
			if before != nil {
				q, stop = before, nil
				continue
			}
			if q == nil {
				// Nothing to go back to: the reports of the case itself clash,
				// or no question was worth putting.
				return nil
			}
			t.p.Para("This is the first question.")
		}
	}
}

// complaint asks for the driver's own words and confirms what they may mean.
func (t *plainTalk) complaint() (outcome, error) {
	words := t.x.Words()
	t.p.Space()
	if words != "" {
		t.p.Para("The complaint as written down: %s", words)
	} else {
		t.p.Styled("What does the driver say, in their own words? An empty line goes straight to the questions.", table.Strong)
		line, ok := t.ask("")
		if !ok || isWord(line, "quit", "q") {
			return leave, nil
		}
		if words = line; isWord(line, "skip") {
			words = ""
		}
	}
	var said struct{ present, absent []string }
	list := t.x.Complaint(words)
	// Kept before anything is confirmed or said: whoever leaves now finds it again.
	if err := t.x.Tell(words); err != nil {
		return leave, err
	}
	if len(list) == 0 && words != "" {
		kept := ""
		if t.x.Kept() {
			kept = " They are kept in the case."
		}
		t.p.Para("The rules know no finding by these words.%s The questions go on.", kept)
	}
	for _, pr := range list {
		names, ok := t.confirm(pr)
		if !ok {
			return leave, nil
		}
		if pr.State == engine.Absent {
			said.absent = append(said.absent, names...)
		} else {
			said.present = append(said.present, names...)
		}
	}
	return answered, t.x.Confirm(words, said.present, said.absent)
}

// confirm asks whether the words mean a finding, and where its place is open
// which one; nothing is assumed.
func (t *plainTalk) confirm(pr talk.Proposal) (names []string, ok bool) {
	t.p.Space()
	if len(pr.Places) > 0 {
		ask := "is it one of these, and which? Numbers, or none."
		if pr.State == engine.Absent {
			ask = "which of these is it not? Numbers, or none."
		}
		t.p.Para("\"%s\": %s", pr.Words, ask)
		q := &talk.Question{Options: pr.Places}
		t.options(q)
		for {
			line, ok := t.ask("")
			if !ok || isWord(line, "quit", "q") {
				return nil, false
			}
			if line == "" || isWord(line, "skip", "s", "?", "don't know") {
				return nil, true
			}
			r, err := parseReply(q, line)
			if err == nil {
				return r.said.Present, true
			}
			t.p.Para("%s", err)
		}
	}
	what := pr.Title
	if pr.State == engine.Absent {
		what = wording.Denied(what)
	}
	t.p.Para("\"%s\": is that: %s? (yes, no)", pr.Words, what)
	for {
		line, ok := t.ask("")
		switch {
		case !ok || isWord(line, "quit", "q"):
			return nil, false
		case isWord(line, "yes", "y"):
			return []string{pr.Finding}, true
		case line == "", isWord(line, "no", "n", "skip", "s", "?", "don't know"):
			return nil, true
		}
		t.p.Para("yes or no; an empty line leaves it out.")
	}
}

func (t *plainTalk) choices(q *talk.Question) {
	if about := speaksOf(q); about != "" {
		t.p.Para("About: %s", about)
	}
	for i, c := range q.Choices {
		said := ""
		if c.Taken {
			said = " (said)"
		}
		t.p.Item(fmt.Sprintf("%3d  ", i+1), "%s", c.Title+said)
	}
}

func (t *plainTalk) options(q *talk.Question) {
	for i, o := range q.Options {
		said := ""
		if o.State != "" {
			said = " (said: " + stateSaid[o.State] + ")"
		}
		t.p.Item(fmt.Sprintf("%3d  ", i+1), "%s", o.Title+said)
	}
}

var stateSaid = map[engine.State]string{engine.Present: "so", engine.Absent: "not so", engine.Unknown: "not known"}

// question puts one question until it is answered or left.
func (t *plainTalk) question(q *talk.Question) (outcome, error) {
	t.p.Space()
	t.p.Styled(fmt.Sprintf("%d. %s", q.Number, q.Asks), table.Strong)
	if q.Why != "" {
		t.p.Styled("("+q.Why+")", table.Faint)
	}
	prompt := ""
	switch {
	case q.Counts != "":
		prompt = q.Counts + " "
		if q.Said != "" {
			t.p.Para("(said: %s)", q.Said)
		}
	case len(q.Choices) > 0:
		prompt = "one of 1 to " + strconv.Itoa(len(q.Choices)) + " "
		if q.Several {
			prompt = "numbers "
		}
		t.choices(q)
	default:
		t.options(q)
		if q.Single {
			prompt = "yes/no "
		}
	}
	for {
		line, ok := t.ask(prompt)
		if !ok {
			return leave, nil
		}
		var err error
		switch {
		case isWord(line, "quit", "q", "leave"):
			return leave, nil
		case isWord(line, "back", "b"):
			return goBack, nil
		case isWord(line, "skip", "s"):
			if err = t.x.Skip(); err == nil {
				t.p.Para("Skipped.")
			}
		case isWord(line, "?", "don't know", "dont know", "dk"):
			if err = t.x.DontKnow(); err == nil {
				t.p.Para("Noted: not known.")
			}
		default:
			r, bad := parseReply(q, line)
			if bad != nil {
				t.p.Para("%s", bad)
				continue
			}
			if err = give(t.x, q, r); err != nil && q.Counts != "" {
				t.p.Para("%s", err.Error())
				continue
			}
			switch {
			case err != nil:
			case r.silent():
				t.p.Para("Skipped.")
			default:
				t.p.Para("Noted: %s", r.words(q))
			}
		}
		if err != nil {
			return leave, err
		}
		if short, _, err := t.x.Leading(); err == nil && short != "" {
			t.p.Styled("Leading: "+short, table.Faint)
		}
		return answered, nil
	}
}

// stopped says why the questions end, and asks whether to go on all the same.
func (t *plainTalk) stopped(s *talk.Stop) outcome {
	t.p.Space()
	t.p.Styled(wording.Capital(s.Reason)+".", table.Strong)
	if s.Title == "" {
		return leave
	}
	t.p.Para("The best left: %s. Going on costs %s and saves about %s. Go on anyway? (yes, no, back)", s.Title, wording.Minutes(float64(s.Cost)), wording.Minutes(float64(s.Saves)))
	for {
		line, ok := t.ask("")
		switch {
		case !ok, line == "", isWord(line, "no", "n", "quit", "q"):
			return leave
		case isWord(line, "yes", "y"):
			return goOn
		case isWord(line, "back", "b"):
			return goBack
		}
		t.p.Para("yes, no or back; an empty line is no.")
	}
}
