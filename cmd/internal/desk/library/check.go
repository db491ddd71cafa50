package library

import (
	"context"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/load"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/engine/refine/rulepath"
	"slipcase/rules"
	"slipcase/rules/check"
	"slipcase/rules/diag"
	"slipcase/rules/syntax"
)

// Checked is what a check went over. What it found is in the diagnostics.
type Checked struct {
	Units    int  `json:"units"`
	Modes    int  `json:"modes"`
	Findings int  `json:"findings"`
	Checks   int  `json:"checks"`
	Examples int  `json:"examples"` // worked cases that were run; 0 when errors kept them from running
	Skipped  bool `json:"examples_left_out"`
	Cases    int  `json:"cases"` // case files among the paths
	Errors   int  `json:"errors"`
	Warnings int  `json:"warnings"`
	// Sources says, for each unit gone over and last for the rules, how many
	// numbers it has by where they come from, and how much of it is made.
	Sources []CheckedUnit `json:"sources"`
}

// CheckedUnit is one line of what a check counts; Unit is "" for the rules.
type CheckedUnit struct {
	Unit    string         `json:"unit"`
	Made    Made           `json:"made"`
	Numbers map[string]int `json:"numbers"` // by basis: published, shop record, common practice, recalled, invented
}

// sources counts the numbers of the units asked for, and of the rules.
func (in *sorted) sources(k *engine.Knowledge) []CheckedUnit {
	out := []CheckedUnit{}
	line := func(unit string, made Made, numbers map[engine.BasisKind]int) {
		x := CheckedUnit{Unit: unit, Made: made, Numbers: map[string]int{}}
		for _, b := range engine.BasisKinds {
			x.Numbers[string(b)] = numbers[b]
		}
		out = append(out, x)
	}
	for _, u := range k.Units {
		if len(in.names) == 0 || in.holds(u.At) {
			line(u.ID, MadeOf(u), check.Numbers(u))
		}
	}
	if len(in.names) > 0 {
		return out
	}
	rules := map[engine.BasisKind]int{}
	rulepath.Walk(k, func(p rulepath.Path, n *engine.Number) {
		if p.Unit() == "" && n.Text != "" && n.Basis != nil {
			rules[n.Basis.Kind]++
		}
	})
	line("", Made{}, rules)
	return out
}

// Check goes over the embedded knowledge and the shop's folder, or over them
// together with the files and folders given; then only what is found there is
// told, with errors elsewhere. With examples it works the examples too. Problems
// of the rules are diagnostics of the answer, not a Failure; a path that cannot be
// read fails with Unavailable.
func (d *Library) Check(ctx context.Context, paths []string, examples bool) (answer.Answer[Checked], error) {
	layers, err := d.load.Layers()
	if err != nil {
		return answer.Answer[Checked]{}, err
	}
	in, err := d.sort(paths)
	if err != nil {
		return answer.Answer[Checked]{}, err
	}
	var diags []engine.Diagnostic
	k, err := load.Meanwhile(ctx, func() (k *engine.Knowledge) {
		k, diags = rules.Load(rules.Options{Layers: append(layers, in.layers...), Extra: in.extra})
		return k
	})
	if err != nil {
		return answer.Answer[Checked]{}, err
	}
	out := Checked{Units: len(k.Units), Modes: len(k.Modes), Findings: len(k.Findings), Checks: len(k.Checks), Cases: len(in.cases), Skipped: !examples}
	if len(paths) > 0 {
		// Only the examples that were asked for: the others have been worked
		// when they were written.
		k.Examples = slices.DeleteFunc(k.Examples, func(e engine.Example) bool { return !in.holds(e.At) })
	}
	opt := check.Options{Known: diags}
	if examples && !diag.HasErrors(diags) {
		// What no answer is worked out for has no examples that come out.
		wide := check.Wide(k)
		k.Examples = slices.DeleteFunc(k.Examples, func(e engine.Example) bool { return wide[e.Case.Unit] })
		x := newExampleRunner(ctx, k)
		if err := ctx.Err(); err != nil {
			return answer.Answer[Checked]{}, answer.AsFailure(err)
		}
		opt.RunExample = x.run
		diags = append(diags, check.Run(k, opt)...)
		out.Examples = x.ran
	} else {
		diags = append(diags, check.Run(k, opt)...)
	}
	cases := append(in.cases, d.demoFiles(paths)...)
	if len(k.Units) == 0 {
		cases = in.cases
	}
	for _, f := range cases {
		c, found := rules.LoadCase(f.Name, f.Src)
		diags = append(diags, found...)
		if c != nil && !diag.HasErrors(found) {
			diags = append(diags, rules.ResolveCase(k, c)...)
		}
	}
	out.Sources = in.sources(k)
	diags = diag.Sort(diags)
	if len(paths) > 0 {
		diags = in.own(diags)
	}
	for _, x := range diags {
		if x.Severity == engine.Error {
			out.Errors++
		} else {
			out.Warnings++
		}
	}
	return answer.Answer[Checked]{Rules: k.Hash, Data: out, Diagnostics: answer.Messages(diags)}, nil
}

// demoFiles are the built-in cases, checked when everything is.
func (d *Library) demoFiles(paths []string) []rules.File {
	if len(paths) > 0 {
		return nil
	}
	var out []rules.File
	for _, name := range load.Demos() {
		if show, src, err := load.Demo(name); err == nil {
			out = append(out, rules.File{Name: show, Src: src})
		}
	}
	return out
}

// sorted are paths by what they hold.
type sorted struct {
	layers []rules.Layer
	extra  []rules.File
	cases  []rules.File
	names  []string // prefixes of the files that were asked for
}

// sort tells folders of knowledge, rule files and case files apart.
func (d *Library) sort(paths []string) (*sorted, error) {
	in := &sorted{}
	for _, p := range paths {
		show := filepath.ToSlash(p)
		if st, err := os.Stat(p); err == nil && st.IsDir() {
			in.layers = append(in.layers, rules.Layer{Name: show, FS: os.DirFS(p), Root: show})
			in.names = append(in.names, strings.TrimSuffix(show, "/")+"/")
			continue
		}
		src, err := d.load.File(p)
		if err != nil {
			return nil, err
		}
		in.names = append(in.names, p)
		f := rules.File{Name: p, Src: src}
		if holdsCase(p, src) {
			in.cases = append(in.cases, f)
		} else {
			in.extra = append(in.extra, f)
		}
	}
	return in, nil
}

func holdsCase(name string, src []byte) bool {
	file, _ := syntax.Parse(name, string(src))
	for i := range file.Body.Blocks {
		if file.Body.Blocks[i].Type == "case" {
			return true
		}
	}
	return false
}

// holds tells whether a place stands in the files asked for.
func (in *sorted) holds(at engine.Range) bool {
	for _, n := range in.names {
		if at.File == n || strings.HasSuffix(n, "/") && strings.HasPrefix(path.Clean(at.File), path.Clean(n)+"/") {
			return true
		}
	}
	return false
}

// own keeps what stands in the files asked for, and errors elsewhere.
func (in *sorted) own(diags []engine.Diagnostic) []engine.Diagnostic {
	return slices.DeleteFunc(diags, func(x engine.Diagnostic) bool {
		return x.Severity != engine.Error && !in.holds(x.Subject)
	})
}

// worked is what came out of an example: suspects as component/mode, and root causes,
// best first.
type worked struct{ suspects, causes []string }

// exampleRunner works examples, as many at once as there are cores, with one
// model for each unit.
type exampleRunner struct {
	k      *engine.Knowledge
	models map[string]func() (*model.Model, error)
	done   map[engine.Range]func() (worked, error) // by the example's place
	ran    int
}

func newExampleRunner(ctx context.Context, k *engine.Knowledge) *exampleRunner {
	x := &exampleRunner{k: k, models: map[string]func() (*model.Model, error){}, done: map[engine.Range]func() (worked, error){}}
	for _, u := range k.Units {
		x.models[u.ID] = sync.OnceValues(func() (*model.Model, error) {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			m, err := model.Build(k, u)
			if err != nil {
				return nil, err
			}
			return m.WithContext(ctx), nil
		})
	}
	var todo []func() (worked, error)
	for i := range k.Examples {
		e := &k.Examples[i]
		if x.models[e.Case.Unit] == nil {
			continue
		}
		f := sync.OnceValues(func() (worked, error) { return x.rank(e) })
		x.done[e.At] = f
		todo = append(todo, f)
	}
	var wg sync.WaitGroup
	next := make(chan func() (worked, error))
	for range min(runtime.GOMAXPROCS(0), len(todo)) {
		wg.Go(func() {
			for f := range next {
				f() // kept; run gives the answer and its error
			}
		})
	}
	for _, f := range todo {
		next <- f
	}
	close(next)
	wg.Wait()
	return x
}

// run is the answer to one example, for package check.
func (x *exampleRunner) run(_ *engine.Unit, e engine.Example) (suspects, causes []string, err error) {
	out, err := x.done[e.At]()
	if err == nil {
		x.ran++
	}
	return out.suspects, out.causes, err
}

// rank works one example.
func (x *exampleRunner) rank(e *engine.Example) (out worked, err error) {
	m, err := x.models[e.Case.Unit]()
	if err != nil {
		return out, err
	}
	r, diags, err := diagnose.Case(m, &e.Case, diagnose.Options{Top: max(e.Within, len(e.Expect), 1)})
	if err != nil {
		return out, err
	}
	if r == nil {
		return out, &answer.Failure{Code: answer.Rules, Messages: answer.Messages(wording.Problems(diags))}
	}
	for _, s := range r.Suspects {
		for _, b := range s.Modes {
			out.suspects = append(out.suspects, s.Component.Name+"/"+b.Mode.Name)
		}
	}
	for _, c := range r.Causes {
		out.causes = append(out.causes, c.Cause.Name)
	}
	return out, nil
}
