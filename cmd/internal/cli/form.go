package cli

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	tea "charm.land/bubbletea/v2"
	"charm.land/huh/v2"
	"charm.land/lipgloss/v2"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/talk"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

// interviewForm puts the questions of an interview in a form that fills the
// screen. What is answered is kept before the next question is worked out.
func (a *app) interviewForm(x *talk.Interview) error {
	c := x.Case()
	name := "Case " + c.ID
	if c.Title != "" {
		name += ": " + c.Title
	}
	m := &screenModel{x: x, name: name, width: a.width, height: 24, strong: lipgloss.NewStyle().Bold(true), faint: lipgloss.NewStyle().Faint(true)}
	if !a.color() {
		m.strong, m.faint = lipgloss.NewStyle(), lipgloss.NewStyle()
	}
	m.theme = huh.ThemeFunc(func(dark bool) *huh.Styles {
		s := huh.ThemeBase(dark)
		s.Focused.Title = m.strong
		return s
	})
	_, err := tea.NewProgram(m, tea.WithInput(a.in), tea.WithOutput(a.out)).Run()
	if m.working != nil {
		<-m.working // the sitting is not to be used from two sides
	}
	switch {
	case m.failed != nil:
		return m.failed
	case err != nil && !errors.Is(err, tea.ErrProgramKilled) && !errors.Is(err, tea.ErrInterrupted):
		return err
	}
	return x.Leave()
}

// phase is what the form asks for.
type phase int

const (
	askWords   phase = iota // the complaint
	askMeant                // what it may mean
	askPlace                // where, for one that left it open
	askAnswer               // a question
	askNot                  // which of its options are ruled out one by one
	askStopped              // the end of the questions
	askClash                // reports that contradict each other
)

// screenModel is the form's state. The rules of the interview are in
// desk.Interview; this only shows and reads.
type screenModel struct {
	x             *talk.Interview
	name          string // of the case
	width, height int
	theme         huh.Theme
	strong, faint lipgloss.Style

	phase   phase
	form    *huh.Form
	build   func() huh.Field // the field on the screen, made anew for another size
	picked  []string         // of a list
	not     []string         // of a question: ruled out one by one
	kept    []string         // what was marked of it before
	one     string           // of a choice
	words   string
	listed  []talk.Proposal // still to be confirmed, or to be given a place
	present []string        // confirmed of the complaint
	absent  []string

	q       *talk.Question
	above   string // a line over the form: what leads, or what was wrong
	working chan struct{}
	failed  error
}

// turned is the next question, worked out.
type turned struct {
	q       *talk.Question
	stop    *talk.Stop
	leading string
	err     error
}

func (m *screenModel) Init() tea.Cmd {
	if m.x.Begun() {
		return m.next(m.x.Next)
	}
	if words := m.x.Words(); words != "" {
		m.words = words
		return m.meant()
	}
	return m.show(askWords, func() huh.Field {
		return huh.NewText().Title("What does the driver say?").
			Description(m.aside("In the driver's own words. What they may mean is shown before anything is entered.\nLeave it empty to go straight to the questions.")).
			Lines(3).ShowLineNumbers(false).ExternalEditor(false).Value(&m.words)
	})
}

// show puts one field on the screen.
func (m *screenModel) show(p phase, build func() huh.Field) tea.Cmd {
	m.phase, m.build = p, build
	m.form = huh.NewForm(huh.NewGroup(build())).WithShowHelp(false).WithTheme(m.theme)
	return tea.Batch(m.form.Init(), m.resize())
}

// low tells a screen that has room for the question and little else.
func (m *screenModel) low() bool { return m.height < 16 }

// aside is a text that a low screen does without.
func (m *screenModel) aside(text string) string {
	if m.low() {
		return ""
	}
	return text
}

// next works out a question aside; the screen says so meanwhile.
func (m *screenModel) next(f func() (*talk.Question, *talk.Stop, error)) tea.Cmd {
	m.form = nil
	done := make(chan struct{})
	m.working = done
	return func() tea.Msg {
		defer close(done)
		var t turned
		t.q, t.stop, t.err = f()
		if t.err == nil {
			t.leading, _, t.err = m.x.Leading()
		}
		return t
	}
}

// resize gives the form the room between head and foot.
func (m *screenModel) resize() tea.Cmd {
	if m.form == nil {
		return nil
	}
	room := max(3, m.height-lipgloss.Height(m.head())-lipgloss.Height(m.foot())-lipgloss.Height(m.gap())+1)
	f, cmd := m.form.Update(tea.WindowSizeMsg{Width: m.columns(), Height: room})
	m.form = f.(*huh.Form)
	return cmd
}

// columns is the width of the text: long lines are hard to read.
func (m *screenModel) columns() int { return max(20, min(m.width, 90)) }

func (m *screenModel) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		if msg.Width == m.width && msg.Height == m.height || m.form == nil {
			m.width, m.height = msg.Width, msg.Height
			return m, m.resize()
		}
		m.width, m.height = msg.Width, msg.Height
		return m, m.show(m.phase, m.build)
	case turned:
		m.working = nil
		return m, m.turn(msg)
	case tea.KeyPressMsg:
		if k := msg.String(); k == "ctrl+c" || k == "esc" {
			return m, tea.Quit
		}
		if m.form == nil {
			return m, nil
		}
		if m.phase != askWords {
			if cmd, ok := m.key(msg.String()); ok {
				return m, cmd
			}
		}
	}
	if m.form == nil {
		return m, nil
	}
	f, cmd := m.form.Update(msg)
	m.form = f.(*huh.Form)
	if m.form.State == huh.StateCompleted {
		return m, tea.Batch(cmd, m.done())
	}
	return m, cmd
}

// turn shows what was worked out.
func (m *screenModel) turn(t turned) tea.Cmd {
	m.q = t.q
	switch {
	case t.err != nil && talk.Clash(t.err):
		var lines []string
		for _, d := range answer.AsFailure(t.err).Messages {
			lines = append(lines, d.Summary)
		}
		m.above = ""
		return m.choice(askClash, wording.Capital(strings.Join(lines, "\n- ")), [][2]string{{"Go back to the last answer", "back"}, {"Leave", "quit"}}, "")
	case t.err != nil:
		m.failed = t.err
		return tea.Quit
	case t.stop != nil:
		m.above = "Leading: " + t.leading
		title := wording.Capital(t.stop.Reason) + "."
		options := [][2]string{{"Leave", "quit"}, {"Go back to the last answer", "back"}}
		if t.stop.Title != "" {
			title += "\nThe best left: " + t.stop.Title + ". Going on costs " + wording.Minutes(float64(t.stop.Cost)) + " and saves about " + wording.Minutes(float64(t.stop.Saves)) + "."
			options = append(options, [2]string{"Go on anyway", "on"})
		}
		return m.choice(askStopped, title, options, "")
	}
	m.above = "Leading: " + t.leading
	return m.put(t.q)
}

// choice is a list of which one is taken; the first is marked, or the one that
// was taken before.
func (m *screenModel) choice(p phase, title string, options [][2]string, before string) tea.Cmd {
	var list []huh.Option[string]
	m.one = options[0][1]
	if before != "" {
		m.one = before
	}
	for _, o := range options {
		list = append(list, huh.NewOption(o[0], o[1]))
	}
	return m.show(p, func() huh.Field { return huh.NewSelect[string]().Title(title).Options(list...).Value(&m.one) })
}

// put shows a question; one that is gone back to with what was said.
func (m *screenModel) put(q *talk.Question) tea.Cmd {
	m.q, m.not = q, nil
	title := wording.Capital(q.Asks)
	switch {
	case q.Counts != "":
		m.words = q.Said
		return m.show(askAnswer, func() huh.Field {
			return huh.NewInput().Title(title).Description(m.aside("In " + q.Counts + ". Leave it empty to skip.")).Value(&m.words)
		})
	case len(q.Choices) > 0 && !q.Several:
		if about := speaksOf(q); about != "" {
			title += "\n(" + about + ")"
		}
		options, before := [][2]string{{"(skip)", ""}}, ""
		for _, c := range q.Choices {
			options = append(options, [2]string{c.Title, c.Name})
			if c.Taken {
				before = c.Name
			}
		}
		return m.choice(askAnswer, title, options, before)
	case len(q.Choices) > 0:
		var list []talk.Reply
		for _, c := range q.Choices {
			o := talk.Reply{Finding: c.Name, Title: c.Title}
			if c.Taken {
				o.State = engine.Present
			}
			list = append(list, o)
		}
		return m.list(askAnswer, title, "Mark what applies; Enter alone skips.", list)
	case q.Single:
		o := q.Options[0]
		before := map[engine.State]string{engine.Present: "yes", engine.Absent: "no", engine.Unknown: "?"}[o.State]
		return m.choice(askAnswer, title+"\n("+o.Title+")", [][2]string{{"(skip)", ""}, {"Yes", "yes"}, {"No", "no"}, {"Don't know", "?"}}, before)
	}
	list := append([]talk.Reply{}, q.Options...)
	for _, r := range q.Ranges {
		list = append(list, talk.Reply{Finding: neverMark + r, Title: "never uses " + r})
	}
	rest := talk.Reply{Finding: restMark, Title: "all others here are fine"}
	for _, o := range q.Options {
		if o.State == engine.Absent {
			rest.State = engine.Present // as it was said before
		}
	}
	list = append(list, rest)
	return m.list(askAnswer, title, "Mark what applies. Leave a line unmarked if it was not asked; say so if the others are fine.", list)
}

// Marks in a list that are no findings.
const (
	restMark  = "\x00rest"
	neverMark = "\x00never "
)

// reply is what the form has read, as plain lines would give it.
func (m *screenModel) reply() (reply, bool) {
	var r reply
	switch {
	case m.q.Counts != "":
		r.count = strings.TrimSpace(m.words)
	case len(m.q.Choices) > 0 && m.q.Several:
		r.choices = m.picked
	case len(m.q.Choices) > 0:
		if m.one != "" {
			r.choices = []string{m.one}
		}
	case m.q.Single:
		f := []string{m.q.Options[0].Finding}
		switch m.one {
		case "?":
			return r, false
		case "yes":
			r.said.Present = f
		case "no":
			r.said.Absent = f
		}
	default:
		for _, f := range m.picked {
			if f == restMark {
				r.said.Rest = engine.Absent
			} else if rng, ok := strings.CutPrefix(f, neverMark); ok {
				r.said.NotTried = append(r.said.NotTried, rng)
			} else {
				r.said.Present = append(r.said.Present, f)
			}
		}
		r.said.Absent = m.not
	}
	return r, true
}

// many tells whether the question on the screen is answered line by line.
func (m *screenModel) many() bool {
	return m.phase == askAnswer && m.q != nil && m.q.Counts == "" && len(m.q.Choices) == 0 && !m.q.Single
}

// rule asks which of the lines that are not marked are ruled out, one by one.
func (m *screenModel) rule() tea.Cmd {
	kept := m.picked
	var list []talk.Reply
	for _, o := range m.q.Options {
		if !slices.Contains(kept, o.Finding) {
			list = append(list, talk.Reply{Finding: o.Finding, Title: o.Title})
		}
	}
	if len(list) == 0 {
		return nil
	}
	cmd := m.list(askNot, wording.Capital(m.q.Asks)+"\nWhich of these are ruled out?", "Mark what is ruled out; what stays unmarked was not asked.", list)
	m.kept = kept
	return cmd
}

// list is a list of which any number is taken.
func (m *screenModel) list(p phase, title, note string, options []talk.Reply) tea.Cmd {
	m.picked = nil
	for _, o := range options {
		if o.State == engine.Present {
			m.picked = append(m.picked, o.Finding)
		}
	}
	return m.show(p, func() huh.Field {
		var list []huh.Option[string]
		seen := map[string]bool{}
		// The library's list counts its title and note as rows of options where
		// it is not told its height.
		head := strings.Join(table.Wrap(title, m.columns()-4), "\n")
		note := strings.Join(table.Wrap(m.aside(note), m.columns()-4), "\n")
		height := lipgloss.Height(head)
		if note != "" {
			height += lipgloss.Height(note)
		}
		for _, o := range options {
			// The form tells options apart by their text.
			text := o.Title
			if seen[text] {
				text += " (" + o.Finding + ")"
			}
			seen[text] = true
			lines := table.Wrap(text, max(10, m.columns()-8))
			height += len(lines)
			list = append(list, huh.NewOption(strings.Join(lines, "\n"), o.Finding))
		}
		return huh.NewMultiSelect[string]().Title(head).Description(note).Options(list...).Filterable(false).Height(height).Value(&m.picked)
	})
}

// meant shows what the complaint may mean.
func (m *screenModel) meant() tea.Cmd {
	m.listed = m.x.Complaint(m.words)
	// Kept before anything is confirmed: whoever leaves now finds it again.
	if err := m.x.Tell(m.words); err != nil {
		m.failed = err
		return tea.Quit
	}
	var sure []talk.Reply
	for _, p := range m.listed {
		if len(p.Places) == 0 {
			what := p.Title
			if p.State == engine.Absent {
				what = wording.Denied(what)
			}
			sure = append(sure, talk.Reply{Finding: p.Finding, Title: what + "   \"" + p.Words + "\""})
		}
	}
	if len(sure) == 0 {
		return m.place()
	}
	return m.list(askMeant, "Is this what the driver means?", "Mark what is right; what is not marked is not entered.", sure)
}

// place asks where, for the next proposal that left it open; then the
// questions begin.
func (m *screenModel) place() tea.Cmd {
	for i, p := range m.listed {
		if len(p.Places) > 0 {
			m.listed = m.listed[i:]
			head := "\"" + p.Words + "\": where?"
			if p.State == engine.Absent {
				head = "\"" + p.Words + "\": where does it not do that?"
			}
			return m.list(askPlace, head, "Mark what is right; with nothing marked it is not entered.", p.Places)
		}
	}
	if err := m.x.Confirm(m.words, m.present, m.absent); err != nil {
		m.failed = err
		return tea.Quit
	}
	return m.next(m.x.Next)
}

// key takes the letters that work at a question; false leaves them to the form.
func (m *screenModel) key(k string) (tea.Cmd, bool) {
	switch {
	case k == "q":
		return tea.Quit, true
	case k == "b" && m.phase == askNot:
		return m.put(m.q), true
	case k == "b" && m.phase >= askAnswer:
		return m.back(), true
	case k == "n" && m.many():
		return m.rule(), true
	case k == "s" && m.phase == askAnswer:
		return m.keep(m.x.Skip()), true
	case k == "?" && m.phase == askAnswer:
		return m.keep(m.x.DontKnow()), true
	}
	return nil, false
}

func (m *screenModel) back() tea.Cmd {
	q := m.x.Back()
	if q == nil {
		m.above = "This is the first question."
		return m.resize()
	}
	m.above = "Answered before; change it or press Enter."
	return m.put(q)
}

// keep goes on after an answer was kept.
func (m *screenModel) keep(err error) tea.Cmd {
	if err != nil {
		m.failed = err
		return tea.Quit
	}
	return m.next(m.x.Next)
}

// done takes what the form has read.
func (m *screenModel) done() tea.Cmd {
	switch m.phase {
	case askWords:
		return m.meant()
	case askMeant:
		for _, p := range m.listed {
			if len(p.Places) > 0 || !slices.Contains(m.picked, p.Finding) {
				continue
			}
			if p.State == engine.Absent {
				m.absent = append(m.absent, p.Finding)
			} else {
				m.present = append(m.present, p.Finding)
			}
		}
		return m.place()
	case askPlace:
		if m.listed[0].State == engine.Absent {
			m.absent = append(m.absent, m.picked...)
		} else {
			m.present = append(m.present, m.picked...)
		}
		m.listed = m.listed[1:]
		return m.place()
	case askAnswer, askNot:
		if m.phase == askNot {
			m.not, m.picked = m.picked, m.kept
		}
		r, known := m.reply()
		if !known {
			return m.keep(m.x.DontKnow())
		}
		err := give(m.x, m.q, r)
		if err != nil && m.q.Counts != "" {
			m.above = wording.Capital(err.Error())
			return m.put(m.q)
		}
		return m.keep(err)
	}
	switch m.one { // at the end, or at a clash
	case "back":
		return m.back()
	case "on":
		return m.next(m.x.GoOn)
	}
	return tea.Quit
}

// head is what stands over the form.
func (m *screenModel) head() string {
	lines := []string{m.strong.Render(table.Cut(m.name, m.columns()))}
	if m.low() {
		return lines[0]
	}
	if m.above != "" {
		for _, l := range table.Wrap(m.above, m.columns()) {
			lines = append(lines, m.faint.Render(l))
		}
	}
	if m.phase == askAnswer && m.form != nil {
		n := fmt.Sprintf("Question %d", m.q.Number)
		if m.q.Why != "" {
			n += ": " + m.q.Why
		}
		lines = append(lines, m.faint.Render(table.Cut(n, m.columns())))
	}
	return strings.Join(lines, "\n")
}

// foot lists the keys.
func (m *screenModel) foot() string {
	keys := "ctrl+c leaves; nothing that was answered is lost"
	switch {
	case m.form == nil:
	case m.phase == askWords:
		keys = "enter goes on, ctrl+c leaves"
	case m.phase == askNot:
		keys = "up/down, space marks, enter answers, b back, q leave"
	case m.many():
		keys = "up/down, space marks, n no, enter answers, ? don't know, s skip, b back, q leave"
	case m.phase == askMeant, m.phase == askPlace:
		keys = "up/down, space marks, enter accepts, q leaves"
	case m.phase == askAnswer && m.q.Single:
		keys = "up/down, enter answers, ? don't know, s skip, b back, q leave"
	case m.phase == askAnswer:
		keys = "up/down, space marks, enter answers, ? don't know, s skip, b back, q leave"
	default:
		keys = "up/down, enter chooses, b back, q leave"
	}
	var lines []string
	for _, l := range table.Wrap(keys, m.columns()) {
		lines = append(lines, m.faint.Render(l))
	}
	return strings.Join(lines, "\n")
}

func (m *screenModel) View() tea.View {
	middle := "Working out the next question ..."
	if m.form != nil {
		middle = m.form.View()
	}
	v := tea.NewView(m.head() + m.gap() + middle + m.gap() + m.foot())
	v.AltScreen = true
	return v
}

// gap parts head, form and foot.
func (m *screenModel) gap() string {
	if m.low() {
		return "\n"
	}
	return "\n\n"
}
