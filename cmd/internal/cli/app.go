package cli

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"math"
	"os"
	"os/signal"
	"runtime/debug"
	"slices"
	"sort"
	"strings"
	"sync/atomic"
	"syscall"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
)

// Exit codes.
const (
	exitDone   = 0
	exitFailed = 1
	exitUsage  = 2
)

// fallbackWidth is the page's width where the terminal's is not known.
const fallbackWidth = 80

// app is one run of the program.
type app struct {
	in       io.Reader
	out, err io.Writer
	getenv   func(string) string
	width    int  // columns of the page
	tty      bool // standard output is a terminal

	// Flags of every command.
	json    bool
	shop    string
	book    string
	verbose bool

	ctx      context.Context // ends at an interrupt or a termination
	leaves   atomic.Bool     // the command ends at an interrupt by itself, and keeps what it must
	tree     *cobra.Command
	opened   *desk.Desk
	log      *slog.Logger // of the desk that is opened
	commands []string     // names of those there are
}

// registered are the commands, one from each file.
var registered []func(*app) *cobra.Command

func register(f func(*app) *cobra.Command) { registered = append(registered, f) }

// Main runs the program on the process's own arguments and gives the exit code.
func Main() int {
	boundMemory()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	a := &app{ctx: ctx, in: os.Stdin, out: os.Stdout, err: os.Stderr, getenv: os.Getenv, width: fallbackWidth}
	if fd := int(os.Stdout.Fd()); term.IsTerminal(fd) {
		a.tty = true
		if w, _, err := term.GetSize(fd); err == nil && w > 0 {
			a.width = w
		}
	}
	done := make(chan int, 1)
	go func() { done <- a.run(os.Args[1:]) }()
	select {
	case code := <-done:
		return code
	case <-ctx.Done():
	}
	stop() // a second interrupt ends the process as the system does it
	if a.leaves.Load() {
		return <-done
	}
	select {
	case code := <-done:
		return code
	case <-time.After(patience):
		// Deep in the arithmetic nobody looks at the context.
		return a.tell(os.Args[1:], interrupted(os.Args[1:]))
	}
}

// boundMemory says how much may be taken before garbage is collected.
func boundMemory() {
	// Most runs end after a tenth of a second with some 40 MiB allocated:
	// collecting garbage every few megabytes is a fifth of their time. With twice as
	// much as this the peak is a fifth higher, and fresh pages cost what is saved.
	debug.SetGCPercent(200)
	// Long runs would take five times what they need for that. GOMEMLIMIT, where
	// it is set, says otherwise.
	if debug.SetMemoryLimit(-1) == math.MaxInt64 {
		debug.SetMemoryLimit(768 << 20)
	}
}

// writers are the commands that write to a casebook or to rules.
var writers = []string{"open", "note", "done", "found", "clear", "settle", "undo", "close", "import", "learn"}

// interrupted is what is said where a command was stopped: one that writes may
// have been in the midst of its commit, or behind it.
func interrupted(args []string) *answer.Failure {
	f := answer.AsFailure(context.Canceled)
	for _, arg := range args {
		if slices.Contains(writers, arg) {
			f.Messages[0].Detail = "what it was writing is kept whole or not at all; see slipcase cases show"
			f.Messages[0].Summary = "stopped before it could confirm"
		}
	}
	return f
}

// patience is how long an interrupted command may take to end by itself.
const patience = 40 * time.Millisecond

// run executes one command line.
func (a *app) run(args []string) (code int) {
	defer func() {
		if r := recover(); r != nil {
			if a.verbose {
				fmt.Fprintf(a.err, "%s\n", debug.Stack())
			}
			if a.tree == nil {
				panic(r) // not even the commands stand
			}
			code = a.tell(args, answer.Fail(answer.Internal, fmt.Sprintf("the program failed: %v", r),
				"this is a bug in the program; what is stored is unchanged. Please report it, with what you typed and what --verbose shows"))
		}
	}()
	if a.ctx == nil {
		a.ctx = context.Background()
	}
	root := a.root()
	a.tree = root
	root.SetArgs(args)
	cmd, err := root.ExecuteC()
	if err == nil {
		return exitDone
	}
	f := answer.AsFailure(err)
	if f.Code == answer.Canceled {
		f = interrupted(args)
	}
	var wrong *usageError
	if errors.As(err, &wrong) || isCobraUsage(err) {
		f = answer.Fail(answer.WrongUse, err.Error(), fmt.Sprintf("see %s --help", cmd.CommandPath()))
	}
	if errors.Is(err, errTold) {
		return exitFailed
	}
	return a.tell(args, f)
}

// tell tells a failure and gives the exit code.
func (a *app) tell(args []string, f *answer.Failure) int {
	if a.json || slices.Contains(args, "--json") {
		cmd := a.tree
		if found, _, err := cmd.Find(args); err == nil {
			cmd = found
		}
		a.envelope(cmd, answer.Envelope{Rules: f.Rules, Messages: f.Messages, Error: &answer.ErrorCode{Code: f.Code}})
	} else {
		a.complain(f.Messages)
	}
	return exitCode(f.Code)
}

// exitCode is the exit code of a failure: 2 where the command line names what
// is not there or cannot be, otherwise 1.
func exitCode(c answer.Code) int {
	if c == answer.NotFound || c == answer.WrongUse {
		return exitUsage
	}
	return exitFailed
}

// usageError marks a wrong command line.
type usageError struct{ msg string }

func (e *usageError) Error() string { return e.msg }

func wrongUse(format string, args ...any) error {
	return &usageError{fmt.Sprintf(format, args...)}
}

// isCobraUsage tells errors of the command parser itself; they have no type.
func isCobraUsage(err error) bool {
	return strings.HasPrefix(err.Error(), "unknown command ") || strings.HasPrefix(err.Error(), "required flag(s)") ||
		strings.HasPrefix(err.Error(), "if any flags in the group")
}

// root makes the command tree.
func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "slipcase",
		Short: "find what failed in an automatic transmission",
		Long: `slipcase finds what failed in an automatic transmission, before and while it comes apart: from what the driver says, the road test, gauges, trouble codes and the pan, through the unit's own apply chart and gear train, to ranked suspects with the reasons for each.

A probability is not a verdict. The maker's service procedure, local rules and licensed practice come first.`,
		Example:       "slipcase demos\nslipcase suspects --demo slip-one-gear\nslipcase units",
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return cmd.Help()
		},
		PersistentPreRunE: func(cmd *cobra.Command, _ []string) error { return named(cmd) },
	}
	flags := root.PersistentFlags()
	flags.StringVar(&a.shop, "shop", "", "`folder` of the shop's own rules, overriding the built-in ones (default: rules in the data folder)")
	flags.StringVar(&a.book, "book", "", "`file` of the casebook, or postgres://USER@HOST/DATABASE for one on a server (default: casebook.db in the data folder)")
	flags.BoolVarP(&a.verbose, "verbose", "v", false, "log progress to stderr")
	if err := root.MarkPersistentFlagDirname("shop"); err != nil {
		panic(err)
	}
	root.SetIn(a.in)
	root.SetOut(a.out)
	root.SetErr(a.err)
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return &usageError{err.Error()} })
	root.SetHelpFunc(func(cmd *cobra.Command, _ []string) { a.help(cmd) })
	root.SetUsageFunc(func(cmd *cobra.Command) error { a.help(cmd); return nil })
	root.CompletionOptions.DisableDefaultCmd = true
	var all []*cobra.Command
	for _, f := range registered {
		all = append(all, f(a))
	}
	sort.Slice(all, func(i, j int) bool { return all[i].Name() < all[j].Name() })
	root.AddCommand(all...)
	for _, c := range all {
		a.commands = append(a.commands, c.Name())
	}
	return root
}

// named refuses a flag that is to name a case, casebook or folder and is empty, as of
// a variable that is not set: the answer would be about another one, in silence.
func named(cmd *cobra.Command) error {
	for _, name := range []string{"case", "demo", "in", "book", "shop"} {
		if f := cmd.Flag(name); f != nil && f.Changed && f.Value.Type() == "string" && f.Value.String() == "" {
			return wrongUse("--%s is empty: give what it is to name, or leave it out", name)
		}
	}
	return nil
}

// noArgs and exactArgs are cobra's, with errors that say what to do.
func noArgs(cmd *cobra.Command, args []string) error {
	if len(args) > 0 {
		if cmd.HasSubCommands() {
			return unknownCommand(cmd, args[0])
		}
		return wrongUse("%s: unexpected argument %q", cmd.CommandPath(), args[0])
	}
	return nil
}

func exactArgs(n int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) < n {
			return wrongUse("%s needs %s", cmd.CommandPath(), what)
		}
		if len(args) > n {
			return wrongUse("%s takes only %s; unexpected %q", cmd.CommandPath(), what, args[n])
		}
		return nil
	}
}

func unknownCommand(cmd *cobra.Command, name string) error {
	var names []string
	for _, c := range cmd.Commands() {
		if c.IsAvailableCommand() {
			names = append(names, c.Name())
		}
	}
	hint := ""
	if near := wording.Nearest(name, names); near != "" {
		hint = "; " + near
	}
	return wrongUse("there is no command %q%s", name, hint)
}

// asJSON adds --json to a reading command.
func (a *app) asJSON(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&a.json, "json", false, "print the answer as JSON: schema, rules, method, data, diagnostics")
}

// page is standard output as a page.
func (a *app) page() *table.Page {
	return table.NewPage(a.out, a.width, a.tty && a.color())
}

// color tells whether color is welcome: NO_COLOR, set to anything, says no
// (no-color.org), and so does a terminal called dumb.
func (a *app) color() bool { return a.getenv("NO_COLOR") == "" && a.getenv("TERM") != "dumb" }

// desk opens the use cases with the flags of this run, once.
func (a *app) desk() *desk.Desk {
	if a.opened == nil {
		level := slog.LevelWarn
		if a.verbose {
			level = slog.LevelDebug
		}
		a.log = slog.New(slog.NewTextHandler(a.err, &slog.HandlerOptions{Level: level, ReplaceAttr: func(_ []string, at slog.Attr) slog.Attr {
			if at.Key == slog.TimeKey {
				return slog.Attr{}
			}
			return at
		}}))
		a.opened = desk.New(desk.Options{Home: a.getenv("SLIPCASE_HOME"), Shop: a.shop, Book: cmp.Or(a.book, a.getenv("SLIPCASE_BOOK")), Case: a.getenv("SLIPCASE_CASE"), Who: a.getenv("SLIPCASE_WHO"), Log: a.log})
	}
	return a.opened
}

// show prints what a use case gave: as JSON, or by print. A failure is told by
// run.
func show[T any](a *app, cmd *cobra.Command, ans answer.Answer[T], err error, print func(*table.Page)) error {
	if err != nil {
		return err
	}
	if a.json {
		return a.envelope(cmd, answer.Envelope{Rules: ans.Rules, Method: ans.Method, Input: ans.Input, Data: ans.Data, Messages: slices.Concat(ans.Warnings, ans.Diagnostics)})
	}
	if a.verbose && cmd.Name() != "check" {
		a.complain(ans.Diagnostics)
	}
	p := a.page()
	var rest []answer.Message
	for _, w := range ans.Warnings {
		if !w.First {
			rest = append(rest, w)
			continue
		}
		p.StyledItem("NOTE: ", w.Summary+". "+worded([]answer.Message{w})[0].Detail, table.Warn)
		p.Space()
	}
	print(p)
	a.complain(rest)
	return p.Err()
}

// schemas are the versions of the envelopes that are not the first any more.
// Since 2 remarks are objects with hints.
var schemas = map[string]int{"note": 2, "found": 2, "clear": 2, "settle": 2, "done": 2, "undo": 2, "close": 2,
	// Since 2 they hold what is shown, and say how much more there is.
	"suspects": 2, "why": 2,
	// Since 3 they are one decision: what to do now and the minutes are the same in
	// both, and the minutes are those with putting back what was taken off.
	"plan": 3, "next": 3}

// envelope prints JSON.
func (a *app) envelope(cmd *cobra.Command, e answer.Envelope) error {
	name := strings.Join(strings.Fields(cmd.CommandPath())[1:], "-")
	e.Schema = fmt.Sprintf("slipcase/%s/%d", name, max(1, schemas[name]))
	e.Program = desk.Program()
	e.Messages = worded(e.Messages)
	return e.Write(a.out)
}

// complain prints messages to standard error.
func (a *app) complain(list []answer.Message) {
	a.messages(table.NewPage(a.err, a.width, false), list)
}
