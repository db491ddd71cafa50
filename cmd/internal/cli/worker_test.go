package cli

import (
	"bytes"
	"context"
	"encoding/gob"
	"errors"
	"io"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync"

	"github.com/rogpeppe/go-internal/testscript"

	"slipcase/internal/size"
)

// Most commands of the scripts are run by workers in an ordinary run: processes of
// the real program that run one command after the other, each in its own folder and
// environment. A process for each reads and builds the same rules anew, which was most of what the
// scripts took. Commands in the background, and all of them at the larger sizes, are
// processes of their own.

// order is a command line for a worker, done what it came to.
type (
	order struct {
		Dir  string
		Env  []string
		Args []string
		In   []byte
	}
	done struct {
		Code     int
		Out, Err []byte
		Failed   string // the worker could not even begin
	}
)

const workerName = "slipcase-worker"

// worker takes orders from standard input until it ends.
func worker() {
	boundMemory()
	in, out := gob.NewDecoder(os.Stdin), gob.NewEncoder(os.Stdout)
	for {
		var o order
		if in.Decode(&o) != nil {
			os.Exit(0)
		}
		if out.Encode(o.run()) != nil {
			os.Exit(1)
		}
	}
}

func (o *order) run() (d done) {
	if err := os.Chdir(o.Dir); err != nil {
		return done{Failed: err.Error()}
	}
	os.Clearenv()
	for _, e := range o.Env {
		name, value, _ := strings.Cut(e, "=")
		os.Setenv(name, value)
	}
	var out, bad bytes.Buffer
	a := &app{ctx: context.Background(), in: bytes.NewReader(o.In), out: &out, err: &bad, getenv: os.Getenv, width: fallbackWidth}
	d.Code = a.run(o.Args)
	if a.opened != nil {
		if err := a.opened.Close(); err != nil {
			d.Failed = err.Error()
		}
	}
	d.Out, d.Err = out.Bytes(), bad.Bytes()
	return d
}

// workers are those that run, by what they are asked.
type workers struct {
	idle chan *running
	once sync.Once
	err  error
}

type running struct {
	cmd  *exec.Cmd
	stop io.Closer
	ask  *gob.Encoder
	told *gob.Decoder
}

// abreast is how many commands run at a time.
const abreast = 2

func (w *workers) start() error {
	w.once.Do(func() {
		w.idle = make(chan *running, abreast)
		for range abreast {
			cmd := exec.Command(workerName) // testscript puts it in the path
			cmd.Stderr = os.Stderr
			in, err := cmd.StdinPipe()
			if err == nil {
				var out io.Reader
				if out, err = cmd.StdoutPipe(); err == nil {
					if err = cmd.Start(); err == nil {
						w.idle <- &running{cmd, in, gob.NewEncoder(in), gob.NewDecoder(out)}
					}
				}
			}
			w.err = errors.Join(w.err, err)
		}
	})
	return w.err
}

// end stops them.
func (w *workers) end() {
	for len(w.idle) > 0 {
		r := <-w.idle
		r.stop.Close()
		r.cmd.Wait()
	}
}

// run runs slipcase with some arguments as a script asks for it, and gives the exit
// code. A last argument <FILE is its standard input.
func (w *workers) run(ts *testscript.TestScript, args []string) int {
	o := order{Dir: ts.MkAbs("."), Env: environment(ts), Args: slices.Clone(args)}
	if n := len(args) - 1; n >= 0 && strings.HasPrefix(args[n], "<") {
		in, err := os.ReadFile(ts.MkAbs(args[n][1:]))
		ts.Check(err)
		o.In, o.Args = in, o.Args[:n]
	}
	if size.Of(false, true, true) {
		cmd := exec.Command("slipcase", o.Args...)
		cmd.Dir, cmd.Env, cmd.Stdin = o.Dir, o.Env, bytes.NewReader(o.In)
		cmd.Stdout, cmd.Stderr = ts.Stdout(), ts.Stderr()
		err := cmd.Run()
		var exit *exec.ExitError
		switch {
		case errors.As(err, &exit):
			return exit.ExitCode()
		case err != nil:
			ts.Fatalf("%v", err)
		}
		return exitDone
	}
	ts.Check(w.start())
	var d done
	r := <-w.idle
	err := errors.Join(r.ask.Encode(&o), r.told.Decode(&d))
	w.idle <- r
	ts.Check(err)
	if d.Failed != "" {
		ts.Fatalf("worker: %s", d.Failed)
	}
	ts.Stdout().Write(d.Out)
	ts.Stderr().Write(d.Err)
	return d.Code
}

// environment are the variables of a script that the program asks for.
func environment(ts *testscript.TestScript) (out []string) {
	for _, name := range []string{"PATH", "HOME", "TMPDIR", "NO_COLOR", "TERM", "SLIPCASE_HOME", "SLIPCASE_BOOK", "SLIPCASE_CASE", "SLIPCASE_WHO", "PGPASSWORD", "PGPASSFILE"} {
		if x := ts.Getenv(name); x != "" {
			out = append(out, name+"="+x)
		}
	}
	return out
}
