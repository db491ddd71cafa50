package rules

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"runtime"
	"slices"
	"sort"
	"strings"
	"sync"
	"syscall"

	"slipcase/engine"
	"slipcase/rules/diag"
	"slipcase/rules/syntax"
)

// Folders are the folders of a layer that hold knowledge; each file in one of
// them that ends in .hcl is read, folders within them are not.
var Folders = []string{"units", "rules", "checks", "cautions"}

// Layer is one folder of knowledge. Later layers lie over earlier ones.
type Layer struct {
	Name string // "knowledge", "shop"; names must differ
	FS   fs.FS  // several files are opened at the same time
	// Root stands before the names of files in messages: the folder as the
	// user knows it. Name stands there when Root is "".
	Root string
}

func (l Layer) show(p string) string {
	if l.Root != "" {
		return strings.TrimSuffix(l.Root, "/") + "/" + p
	}
	return path.Join(l.Name, p)
}

// File is one file given by its text.
type File struct {
	Name string // as in messages
	Src  []byte
}

// Options say what to load.
type Options struct {
	Layers []Layer
	// Unit is the id of the one unit to load; "" loads every unit.
	Unit string
	// NoUnits loads the rules alone.
	NoUnits bool
	// NoExamples passes over the example blocks, which only a check of the
	// rules works through.
	NoExamples bool
	// Extra files lie over all layers, each as a layer of its own.
	Extra []File
}

// Load reads the rules and the units asked for. The knowledge holds all that
// could be read; with an error among the diagnostics it must not be worked
// with. Order of the diagnostics and of every list is the same in every run.
func Load(opt Options) (*engine.Knowledge, []engine.Diagnostic) {
	l := &loader{opt: opt}
	return l.run()
}

// LoadUnitFile reads a unit from a file by itself, with the rules of the
// layers and their examples for this unit. The unit may be `like` one of the
// layers' units; a unit of the layers with its own id is left unread.
func LoadUnitFile(opt Options, file File) (*engine.Knowledge, *engine.Unit, []engine.Diagnostic) {
	l := &loader{opt: opt, single: &file}
	k, diags := l.run()
	if len(k.Units) == 0 {
		return k, nil, diags
	}
	return k, k.Units[0], diags
}

// Units lists the ids of the units in the layers, sorted, without reading
// the files.
func Units(layers []Layer) []string {
	seen := map[string]bool{}
	var out []string
	for _, l := range layers {
		for _, p := range list(l.FS, "units") {
			if id := unitID(p); !seen[id] {
				seen[id] = true
				out = append(out, id)
			}
		}
	}
	sort.Strings(out)
	return out
}

func unitID(p string) string { return strings.TrimSuffix(path.Base(p), ".hcl") }

// OpenFolder opens a folder of rules. Links that lead out of it are refused
// when a file is read, and opening a pipe does not wait for a writer.
func OpenFolder(dir string) (fs.FS, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	return folder{root.FS().(rootFS), root}, nil
}

// rootFS is what the files below a root can be asked.
type rootFS interface {
	fs.StatFS
	fs.ReadDirFS
	fs.ReadLinkFS
}

// folder is the files below a root.
type folder struct {
	rootFS
	root *os.Root
}

// Open implements fs.FS.
func (f folder) Open(name string) (fs.File, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	flags := os.O_RDONLY
	if runtime.GOOS != "windows" { // where no file is a pipe
		flags |= syscall.O_NONBLOCK
	}
	return f.root.OpenFile(name, flags, 0)
}

// list gives the .hcl files of a folder, sorted; none when it is not there.
func list(f fs.FS, dir string) []string {
	out, _ := names(f, dir, func(e fs.DirEntry) bool { return !e.IsDir() && strings.HasSuffix(e.Name(), ".hcl") })
	return out
}

// folder is the list of a layer's folder, read once. A folder that is there
// and cannot be read is an error: its rules would be missing without a word.
func (l *loader) folder(layer int, dir string) []string {
	type key = [2]any
	k := key{layer, dir}
	if out, ok := l.folders[k]; ok {
		return out
	}
	out, err := names(l.opt.Layers[layer].FS, dir, func(e fs.DirEntry) bool { return !e.IsDir() && strings.HasSuffix(e.Name(), ".hcl") })
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		l.Error(engine.Range{File: l.opt.Layers[layer].show(dir), Line: 1, Column: 1, EndLine: 1, EndColumn: 1}, "folder cannot be read", reason(err))
	}
	l.folders[k] = out
	return out
}

// units lists the ids of the units of all layers, sorted.
func (l *loader) units() []string {
	seen := map[string]bool{}
	var out []string
	for i := range l.opt.Layers {
		for _, p := range l.folder(i, "units") {
			l.unitFiles[unitFile{i, p}] = true
			if id := unitID(p); !seen[id] {
				seen[id] = true
				out = append(out, id)
			}
		}
	}
	sort.Strings(out)
	return out
}

type unitFile struct {
	layer int
	path  string
}

// names gives what a folder holds, with its path, sorted; hidden files left out.
func names(f fs.FS, dir string, want func(fs.DirEntry) bool) ([]string, error) {
	entries, err := fs.ReadDir(f, dir)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && want(e) {
			out = append(out, path.Join(dir, e.Name()))
		}
	}
	return out, nil
}

// loader is one run of Load.
type loader struct {
	opt    Options
	single *File
	problems
	ids       []string
	folders   map[[2]any][]string // the .hcl files of a layer's folder
	unitFiles map[unitFile]bool
	keep      map[string]*node // the units as they hold, where they are asked for
}

// input is one file to read.
type input struct {
	layer int
	fs    fs.FS
	path  string // in the layer
	show  string // in messages
	src   []byte // Extra: the text itself
	unit  string // id, for a file of units/
	free  bool   // a unit of any id may stand here
}

// loaded is a file read and shaped.
type loaded struct {
	nodes []*node
	diags problems
	sum   [sha256.Size]byte
	used  string // unit that its unit is like
	input
}

func (l *loader) run() (*engine.Knowledge, []engine.Diagnostic) {
	l.folders, l.unitFiles = map[[2]any][]string{}, map[unitFile]bool{}
	l.ids = l.units()
	todo := l.rules()
	for _, layer := range l.opt.Layers {
		l.stray(layer)
	}
	for i, f := range l.opt.Extra {
		todo = append(todo, input{layer: len(l.opt.Layers) + i, show: f.Name, src: f.Src, free: true})
	}
	wanted := l.ids
	if !l.opt.NoUnits && l.single == nil && l.opt.Unit == "" && len(l.ids) > MostUnits {
		l.tooMany() // and nothing else: what is not read would be called unknown
		return &engine.Knowledge{}, l.Done()
	}
	switch {
	case l.opt.NoUnits:
		wanted = nil
	case l.single != nil:
		wanted = nil
		todo = append(todo, input{layer: len(l.opt.Layers) + len(l.opt.Extra), show: l.single.Name, src: l.single.Src, unit: unitID(l.single.Name)})
	case l.opt.Unit != "":
		wanted = nil
		if slices.Contains(l.ids, l.opt.Unit) {
			wanted = []string{l.opt.Unit}
		} else if len(l.opt.Extra) == 0 {
			l.Add(engine.Diagnostic{Severity: engine.Error, Summary: fmt.Sprintf("unknown unit %q", syntax.Clip(l.opt.Unit)), Detail: didYouMean(l.opt.Unit, l.ids)})
		}
	}
	for _, id := range wanted {
		todo = append(todo, l.unitInputs(id)...)
	}
	files := l.read(todo)
	// The `like` chain: units that those read are like, and so on.
	for seen := set(wanted); ; {
		var more []input
		for _, f := range files {
			if f.used != "" && !seen[f.used] && slices.Contains(l.ids, f.used) {
				seen[f.used] = true
				more = append(more, l.unitInputs(f.used)...)
			}
		}
		if len(more) == 0 {
			break
		}
		files = append(files, l.read(more)...)
	}
	return l.build(files, wanted)
}

// MostUnits bounds the units that are read at once: each takes a megabyte and some
// milliseconds.
const MostUnits = 300

// tooMany tells that there are more units than are read at once, at the folder that
// holds the most.
func (l *loader) tooMany() {
	most, at := 0, ""
	for i, layer := range l.opt.Layers {
		if n := len(l.folder(i, "units")); n > most {
			most, at = n, layer.show("units")
		}
	}
	l.Error(engine.Range{File: at, Line: 1, Column: 1, EndLine: 1, EndColumn: 1}, fmt.Sprintf("%d units in all: at most %d are read at once", len(l.ids), MostUnits),
		"Take the files of units that the shop does not rebuild out of this folder.")
}

// mostBlocks bounds the rules of some kinds: every one of them is a node of every
// unit's network, or several. The built-in rules have some 30 causes, 130 modes and
// 170 findings.
var mostBlocks = map[string]int{"cause": 300, "stress": 300, "mode": 2000, "finding": 5000}

// bounded refuses more rules of a kind than a network is made of.
func (l *loader) bounded(nodes []*node) []*node {
	count := map[string]int{}
	return slices.DeleteFunc(nodes, func(n *node) bool {
		most := mostBlocks[n.spec.name]
		if most == 0 {
			return false
		}
		count[n.spec.name]++
		if count[n.spec.name] == most+1 {
			l.Error(n.at(), fmt.Sprintf("more than %d blocks %s", most, n.spec.name), "Those from here on are not read. Take out what the shop has no use for.")
		}
		return count[n.spec.name] > most
	})
}

// rules lists the files of rules of all layers.
func (l *loader) rules() []input {
	var out []input
	for i, layer := range l.opt.Layers {
		for _, dir := range Folders[1:] {
			for _, p := range l.folder(i, dir) {
				out = append(out, input{layer: i, fs: layer.FS, path: p, show: layer.show(p)})
			}
		}
	}
	return out
}

// Fingerprint is the Hash that Load gives for all units of the layers, from the
// bytes of the files alone. The diagnostics are of files that cannot be read.
func Fingerprint(layers []Layer) (string, []engine.Diagnostic) {
	l := &loader{opt: Options{Layers: layers}, folders: map[[2]any][]string{}, unitFiles: map[unitFile]bool{}}
	l.ids = l.units()
	todo := l.rules()
	for _, id := range l.ids {
		todo = append(todo, l.unitInputs(id)...)
	}
	var files []*loaded
	for _, in := range todo {
		f := &loaded{input: in}
		src, bad := ReadFile(in.fs, in.path, in.show)
		switch {
		case bad == nil:
			f.sum = sha256.Sum256(src)
		case !gone(in.fs, in.path):
			l.Add(*bad)
		}
		files = append(files, f)
	}
	return fingerprint(files), l.Done()
}

func set(list []string) map[string]bool {
	m := make(map[string]bool, len(list))
	for _, s := range list {
		m[s] = true
	}
	return m
}

func (l *loader) unitInputs(id string) []input {
	var out []input
	for i, layer := range l.opt.Layers {
		p := "units/" + id + ".hcl"
		if l.unitFiles[unitFile{i, p}] {
			out = append(out, input{layer: i, fs: layer.FS, path: p, show: layer.show(p), unit: id})
		}
	}
	return out
}

// read reads and shapes files, as many at once as there are cores. The order
// of the answer is that of the question.
func (l *loader) read(todo []input) []*loaded {
	out := make([]*loaded, len(todo))
	var wg sync.WaitGroup
	var without []string
	if l.opt.NoExamples {
		without = []string{"example"}
	}
	next := make(chan int, len(todo))
	for i := range todo {
		next <- i
	}
	close(next)
	for range min(runtime.GOMAXPROCS(0), len(todo)) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range next {
				out[i] = readOne(todo[i], without...)
			}
		}()
	}
	wg.Wait()
	return out
}

// ReadFile reads a file of rules, or says why not: a file over the limit is
// refused by its size, without being read.
func ReadFile(fsys fs.FS, name, show string) ([]byte, *engine.Diagnostic) {
	at := engine.Range{File: show, Line: 1, Column: 1, EndLine: 1, EndColumn: 1}
	fail := func(err error) ([]byte, *engine.Diagnostic) {
		return nil, &engine.Diagnostic{Severity: engine.Error, Summary: "file cannot be read", Detail: reason(err), Subject: at}
	}
	special := errors.New("it is not a regular file but a folder, pipe or device")
	// Asked before it is opened: opening a pipe waits for a writer.
	if s, ok := fsys.(fs.StatFS); ok {
		if info, err := s.Stat(name); err != nil {
			return fail(err)
		} else if !info.Mode().IsRegular() {
			return fail(special)
		}
	}
	f, err := fsys.Open(name)
	if err != nil {
		return fail(err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return fail(err)
	}
	if !info.Mode().IsRegular() {
		return fail(special)
	}
	if info.Size() > syntax.MaxBytes {
		d := syntax.TooLong(show, info.Size())
		return nil, &d
	}
	src := make([]byte, 0, info.Size()+1)
	buf := src[:cap(src)]
	n := 0
	for n <= syntax.MaxBytes {
		if n == len(buf) {
			buf = append(buf, make([]byte, 4096)...)
		}
		k, err := f.Read(buf[n:])
		n += k
		if err == io.EOF {
			return buf[:n], nil
		}
		if err != nil {
			return fail(err)
		}
	}
	d := syntax.TooLong(show, int64(n))
	return nil, &d
}

// reason is why something could not be read, as a sentence.
func reason(err error) string {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		err = pe.Err
	}
	if strings.Contains(err.Error(), "escapes") {
		return "It is a link that leads out of the folder. Put the file itself here."
	}
	return sentence(err)
}

// gone tells whether a file that was listed is not there any more: somebody
// took it away in the meantime. A link to nothing is still there.
func gone(fsys fs.FS, name string) bool {
	_, err := fs.Lstat(fsys, name)
	return errors.Is(err, fs.ErrNotExist)
}

func readOne(in input, without ...string) *loaded {
	out := &loaded{input: in}
	src := in.src
	if in.fs != nil {
		var bad *engine.Diagnostic
		if src, bad = ReadFile(in.fs, in.path, in.show); bad != nil {
			if !gone(in.fs, in.path) {
				out.diags.Add(*bad)
			}
			return out
		}
	}
	out.sum = sha256.Sum256(src)
	file, found := trees.parse(in.show, string(src), out.sum, without)
	out.diags.Take(found)
	s := &shaper{src: &source{file: file, layer: in.layer, torn: diag.HasErrors(found.List)}}
	if len(found.List) > 0 && newer(file) {
		// A newer language may look wrong to this one: say only that.
		out.diags = problems{}
	}
	if file.Refused {
		return out
	}
	out.nodes = s.file(func(b *syntax.Block) string {
		switch b.Type {
		case "case":
			return "A case has a file of its own, outside the folders of rules."
		case "unit":
			if in.unit == "" && !in.free {
				return "A unit goes in a file of the folder units, named after it."
			}
			if in.unit != "" && len(b.Labels) > 0 && b.Labels[0].Text != in.unit {
				return fmt.Sprintf("The file's name is its unit's id. Rename the file to %s.hcl or the unit to %q.", syntax.Clip(b.Labels[0].Text), in.unit)
			}
		}
		return ""
	})
	for _, n := range out.nodes {
		if n.spec == unitSpec {
			if a := n.attr("like"); a != nil && isName(&a.Value) {
				out.used = a.Value.Text
			}
		}
	}
	if in.unit != "" && in.src == nil && !diag.HasErrors(out.diags.List) && !hasUnit(out.nodes) && !diag.HasErrors(s.List) {
		s.Warn(engine.Range{File: in.show, Line: 1, Column: 1, EndLine: 1, EndColumn: 1}, "no unit in this file", fmt.Sprintf("A file of the folder units holds the unit of its name: unit %q {", in.unit))
	}
	if s.open != nil {
		out.diags.aim(s.open, s.openBefore)
	}
	out.diags.Take(s.Collector)
	return out
}

// aim puts the message of a block without end at the block that most likely
// lacks its brace, which the indentation tells.
func (p *problems) aim(open *node, before engine.Range) {
	for i := range p.List {
		if d := &p.List[i]; d.Summary == "block without end" {
			d.Subject = open.at()
			d.Detail = fmt.Sprintf("The } that closes this block is missing before line %d.", before.Line)
			return
		}
	}
}

func hasUnit(nodes []*node) bool {
	for _, n := range nodes {
		if n.spec == unitSpec {
			return true
		}
	}
	return false
}

// newer tells whether a file says that it is written in a newer language.
func newer(f *syntax.File) bool {
	for i := range f.Body.Attrs {
		a := &f.Body.Attrs[i]
		if n, ok := wholeNumber(a.Value.Text); a.Name == "language" && ok && n > LanguageVersion {
			return true
		}
	}
	return false
}

// build lays the layers over one another and fills the nouns.
func (l *loader) build(files []*loaded, wanted []string) (*engine.Knowledge, []engine.Diagnostic) {
	last := 0
	for _, f := range files {
		last = max(last, f.layer)
		l.Take(f.diags.Collector)
	}
	var merged []*node
	for layer := 0; layer <= last; layer++ {
		var own []*node
		seen := map[string]*node{}
		for _, f := range files {
			if f.layer != layer {
				continue
			}
			for _, n := range f.nodes {
				if !n.broken {
					if first := seen[n.key()]; first != nil {
						duplicate(&l.problems, n, first)
						continue
					}
					seen[n.key()] = n
				}
				own = append(own, n)
			}
		}
		merged = merge(&l.problems, merged, own)
	}
	merged = l.bounded(merged)
	merged = l.like(merged)
	merged = l.usual(merged)
	for _, n := range merged {
		if l.keep != nil && n.spec == unitSpec {
			l.keep[n.label(0)] = n
		}
	}
	merged = refuseDrops(&l.problems, merged)
	d := newDecoder()
	var scopes []*scope
	for _, n := range merged {
		switch {
		case n.broken:
			// Its faults are told; nothing can refer to it.
		case n.spec != unitSpec:
			d.rule(n)
		case l.wants(n, wanted):
			s := d.inUnit(n)
			scopes = append(scopes, s)
		}
	}
	sort.SliceStable(d.k.Units, func(i, j int) bool { return d.k.Units[i].ID < d.k.Units[j].ID })
	sort.SliceStable(scopes, func(i, j int) bool { return scopes[i].unit.ID < scopes[j].unit.ID })
	ids := append([]string{}, l.ids...)
	for _, s := range scopes {
		if !slices.Contains(ids, s.unit.ID) {
			ids = append(ids, s.unit.ID)
		}
	}
	r := newResolver(&d.problems, d.k, scopes, l.opt.Unit == "" && l.single == nil && !l.opt.NoUnits, ids)
	r.all(d.refs)
	l.Take(d.problems.Collector)
	d.k.Hash = fingerprint(files)
	l.List = foundedOnce(l.List)
	return d.k, l.Done()
}

func (l *loader) wants(n *node, wanted []string) bool {
	id := n.label(0)
	switch {
	case l.single != nil:
		return id == unitID(l.single.Name)
	case l.opt.NoUnits:
		return false
	case l.opt.Unit != "":
		return id == l.opt.Unit
	}
	return true
}

// like lays units over those that they are like, first those that others
// need.
func (l *loader) like(list []*node) []*node {
	byID := map[string]int{}
	for i, n := range list {
		if n.spec == unitSpec && !n.broken {
			byID[n.label(0)] = i
		}
	}
	const (
		fresh = iota
		busy
		ready
	)
	state := make([]int, len(list))
	var visit func(i int)
	visit = func(i int) {
		state[i] = busy
		n := list[i]
		a := n.attr("like")
		if a != nil && isName(&a.Value) {
			base, ok := byID[a.Value.Text]
			switch {
			case !ok:
				n.orphaned()
				l.Error(a.at(), fmt.Sprintf("unknown unit %q", syntax.Clip(a.Value.Text)), hint(didYouMean(a.Value.Text, l.ids), "like names another unit by its id."))
			case state[base] == busy:
				n.orphaned()
				l.Error(a.at(), "units like one another in a circle", fmt.Sprintf("Following like from %q leads back to it.", n.label(0)))
			default:
				if state[base] == fresh {
					visit(base)
				}
				o := overlay(&l.problems, list[base], n)
				o.labels = n.labels
				o.orphan = list[base].orphan
				o.likes = likeness(a, n)
				l.repeats(list[base], n, fmt.Sprintf("Unit %q, which this one is like,", list[base].label(0)), func(string) bool { return true })
				list[i] = o
			}
		}
		state[i] = ready
	}
	for i, n := range list {
		if n.spec == unitSpec && !n.broken && state[i] == fresh {
			visit(i)
		}
	}
	return list
}

// orphaned marks a unit that is like one that could not be found: what it lacks
// may stand there.
func (n *node) orphaned() {
	n.orphan = true
	for _, c := range n.blocks {
		c.flawed = true
	}
}

// fingerprint is a hash over every file's name and content.
func fingerprint(files []*loaded) string {
	lines := make([]string, 0, len(files))
	for _, f := range files {
		name := f.path
		if name == "" {
			name = path.Base(f.show)
		}
		lines = append(lines, fmt.Sprintf("%d %s %x\n", f.layer, name, f.sum))
	}
	sort.Strings(lines)
	h := sha256.New()
	for _, s := range lines {
		io.WriteString(h, s)
	}
	return hex.EncodeToString(h.Sum(nil))
}
