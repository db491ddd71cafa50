package rules

import (
	"fmt"
	"slices"

	"slipcase/engine"
	"slipcase/rules/syntax"
)

// source is one file of one layer.
type source struct {
	file  *syntax.File
	layer int
	basis *engine.Basis // the file's own, nil when it has none
	torn  bool          // its text breaks off somewhere: what is missing may follow from that
}

// node is a block while layers are laid over one another. Its arguments may
// come from several files, each with the basis that holds in its own.
type node struct {
	spec   *blockSpec
	labels []string
	src    *source
	block  *syntax.Block // where it was last written to
	attrs  []attr
	blocks []*node
	basis  *engine.Basis // nearest enclosing, of the uppermost layer that has one
	layer  int           // uppermost layer that wrote to it
	drop   bool
	dropAt engine.Range
	likes  *engine.Likeness
	// of a unit that is like another one: what is wrong in the other's file
	foreign []engine.Diagnostic
	orphan  bool // a unit that is like one that could not be found
	made    bool // a usual part, and nothing of its own written over it
	broken  bool // a label is missing or no name; nothing may refer to it
	flawed  bool // an argument is not known: one that is missing may be meant by it
	// lost are blocks within that could not be kept: of an unknown type, or
	// given twice. dropped are the places of blocks that the unit's own file
	// drops, by type and name; order says where what it is made of is dropped.
	lost    []lostBlock
	dropped map[string]engine.Range
}

// lostBlock is a block that a file's form loses. What it would have named is
// not told as unknown as well; where its own name is lost, no name is.
type lostBlock struct {
	block    *syntax.Block
	nameless bool
}

// attr is an argument with the file it stands in and the basis that holds
// there.
type attr struct {
	*syntax.Attr
	src   *source
	basis *engine.Basis
	over  bool // written over another of a lower layer or of the unit that this one is like
}

func (a *attr) at() engine.Range { return syntax.Range(a.Value.At) }

func (a *attr) nameAt() engine.Range { return syntax.Range(a.NameAt) }

// at is the place of the block's head: its type and labels.
func (n *node) at() engine.Range { return syntax.Range(n.block.Head) }

// labelAt is the place of label i without its quotes, or of the block's head.
func (n *node) labelAt(i int) engine.Range {
	if i < len(n.block.Labels) {
		return syntax.Range(n.block.Labels[i].At)
	}
	return n.at()
}

func (n *node) label(i int) string {
	if i < len(n.labels) {
		return n.labels[i]
	}
	return ""
}

func (n *node) attr(name string) *attr {
	for i := range n.attrs {
		if n.attrs[i].Name == name {
			return &n.attrs[i]
		}
	}
	return nil
}

// title is the block as a message names it: mode "burnt_friction".
func (n *node) title() string { return head(n.spec.name, n.labels) }

func head(typ string, labels []string) string {
	s := typ
	for _, l := range labels {
		s += fmt.Sprintf(" %q", l)
	}
	return s
}

// shape turns the blocks of a file into nodes, each compared with its spec:
// unknown blocks and arguments, labels, and what stands twice.
type shaper struct {
	problems
	src        *source
	open       *node        // the block that is not closed, where one is not
	openBefore engine.Range // the block before which its brace is missing
}

// file gives the top-level nodes of a file; only those whose type wanted
// accepts, the others are an error that says why.
func (s *shaper) file(wanted func(*syntax.Block) string) []*node {
	f := s.src.file
	var out []*node
	if !s.version() {
		return nil
	}
	s.src.basis = s.basis(&f.Body, nil)
	for i := range f.Body.Attrs {
		a := &f.Body.Attrs[i]
		if a.Name == "language" {
			continue
		}
		detail := "At the top of a file only `language` is an argument."
		if language.block(a.Name) != nil {
			detail = fmt.Sprintf("To open a block write: %s \"name\" {", a.Name)
		}
		s.Error(syntax.Range(a.NameAt), fmt.Sprintf("argument %q outside a block", a.Name), detail)
	}
	for _, b := range f.Body.Blocks {
		if b.Type == "basis" {
			continue
		}
		spec := language.block(b.Type)
		if spec == nil {
			s.unknownBlock(b, language)
			continue
		}
		if why := wanted(b); why != "" {
			s.Error(syntax.Range(b.Head), fmt.Sprintf("%s in this file", head(b.Type, nil)), why)
			continue
		}
		out = append(out, s.node(b, spec, s.src.basis))
	}
	return out
}

// version checks `language = 1`; false means that the file is not to be read.
func (s *shaper) version() bool {
	f := s.src.file
	for i := range f.Body.Attrs {
		a := &f.Body.Attrs[i]
		if a.Name != "language" {
			continue
		}
		at := syntax.Range(a.Value.At)
		if a.Value.Kind == syntax.Bad {
			return true // told already
		}
		n, ok := wholeNumber(a.Value.Text)
		if a.Value.Kind != syntax.Number || !ok || n < 1 {
			s.Error(at, "language is a whole number", fmt.Sprintf("Write: language = %d", LanguageVersion))
			return true
		}
		if n > LanguageVersion {
			s.Error(at, fmt.Sprintf("rule language %d", n), fmt.Sprintf("The file is written in language %d; this program reads up to %d. A newer slipcase reads it.", n, LanguageVersion))
			return false
		}
		for _, b := range f.Body.Blocks {
			if b.Head.Start.Byte < a.At.Start.Byte {
				s.Error(syntax.Range(a.NameAt), "language is not the first line", "The first line of a file says which language it is written in. Move it there.")
				break
			}
		}
		return true
	}
	s.Error(engine.Range{File: f.Name, Line: 1, Column: 1, EndLine: 1, EndColumn: 1}, "language missing", fmt.Sprintf("A file begins with the line: language = %d", LanguageVersion))
	return true
}

// basis reads the basis block of a body; outer holds where there is none.
func (s *shaper) basis(body *syntax.Body, outer *engine.Basis) *engine.Basis {
	var found *syntax.Block
	for _, b := range body.Blocks {
		if b.Type != "basis" {
			continue
		}
		if found != nil {
			s.Add(engine.Diagnostic{Severity: engine.Error, Summary: "basis given twice", Detail: fmt.Sprintf("This block's other basis is at %s. Keep one.", syntax.Range(found.Head)), Subject: syntax.Range(b.Head), Also: syntax.Range(found.Head)})
			continue
		}
		found = b
	}
	if found == nil {
		return outer
	}
	n := s.node(found, basisSpec, nil)
	b := &engine.Basis{Kind: engine.BasisKind(n.label(0)), At: n.at()}
	kinds := texts(engine.BasisKinds)
	if !slices.Contains(kinds, n.label(0)) && !n.broken {
		s.Error(n.labelAt(0), fmt.Sprintf("unknown basis %q", n.label(0)), "A basis says where numbers come from. "+didYouMean(n.label(0), kinds))
	}
	v := values{p: &s.problems}
	b.Note, b.Cite = v.text(n, "note"), v.text(n, "cite")
	if a := n.attr("cite"); b.Kind == engine.Published && b.Cite == "" {
		at := n.at()
		if a != nil {
			at = a.at()
		}
		s.Error(at, "published basis without cite", "Say where it was published: cite = \"…\". What is not published is \"common practice\", \"recalled\", \"shop record\" or \"invented\".")
	}
	b.Cases = float64(v.integer(n, "cases"))
	if n.attr("cases") != nil && b.Kind != engine.ShopRecord {
		s.Error(n.attr("cases").nameAt(), "cases outside a shop record", "Only a shop record counts the cases behind it.")
	}
	return b
}

// node turns a block into a node and goes into its blocks.
func (s *shaper) node(b *syntax.Block, spec *blockSpec, basis *engine.Basis) *node {
	n := &node{spec: spec, src: s.src, block: b, layer: s.src.layer}
	if spec != basisSpec {
		basis = s.basis(&b.Body, basis)
	}
	n.basis = basis
	s.labels(n)
	if len(b.Body.Attrs) > 0 {
		n.attrs = make([]attr, 0, len(b.Body.Attrs))
	}
	for i := range b.Body.Attrs {
		a := &b.Body.Attrs[i]
		if a.Name == "drop" && len(spec.labels) > 0 && spec != basisSpec {
			if a.Value.Kind != syntax.Word || a.Value.Text != "true" {
				s.Error(syntax.Range(a.Value.At), "drop is true or absent", "drop = true deletes the block of the layer below; otherwise leave it out.")
				continue
			}
			n.drop, n.dropAt = true, syntax.Range(a.At)
			continue
		}
		if spec.arg(a.Name) == nil {
			s.unknownArg(a, n)
			n.flawed = true
			n.lost = append(n.lost, lostBlock{block: &syntax.Block{Body: syntax.Body{Attrs: []syntax.Attr{*a}}}})
			continue
		}
		n.attrs = append(n.attrs, attr{Attr: a, src: s.src, basis: basis})
	}
	if n.drop && (len(n.attrs) > 0 || len(b.Body.Blocks) > 0) {
		s.Error(n.dropAt, "drop beside other arguments", "A dropped block is gone; it has nothing else in it.")
	}
	for _, c := range b.Body.Blocks {
		if c.Type == "basis" && spec != basisSpec {
			continue
		}
		sub := spec.block(c.Type)
		if sub == nil {
			if s.unclosed(c, n) {
				continue
			}
			s.unknownBlock(c, spec)
			n.lost = append(n.lost, lostBlock{block: c})
			continue
		}
		n.blocks = append(n.blocks, s.node(c, sub, basis))
	}
	for _, c := range n.blocks {
		if c.broken {
			n.lost = append(n.lost, lostBlock{c.block, true})
		}
		n.lost = append(n.lost, c.lost...)
		c.lost = nil
	}
	var twice []lostBlock
	n.blocks, twice = s.unique(n.blocks)
	n.lost = append(n.lost, twice...)
	return n
}

func (s *shaper) labels(n *node) {
	b, spec := n.block, n.spec
	n.labels = make([]string, len(b.Labels))
	least := 0
	for _, l := range spec.labels {
		if !l.optional {
			least++
		}
	}
	for i, l := range b.Labels {
		n.labels[i] = l.Text
		if i >= len(spec.labels) {
			s.Error(syntax.Range(l.At), fmt.Sprintf("extra label on block %s", spec.name), labelHelp(spec))
			n.labels = n.labels[:i]
			break
		}
		if form := spec.labels[i].form; !form.fits(l.Text) {
			s.Error(syntax.Range(l.At), fmt.Sprintf("%q is not a valid name for %s", syntax.Clip(l.Text), article(spec.labels[i].what)), form.wants(l.Text))
			n.broken = true
		}
	}
	if len(b.Labels) < least {
		s.Error(syntax.Range(b.Head), fmt.Sprintf("block %s without its %s", spec.name, spec.labels[len(b.Labels)].what), labelHelp(spec))
		n.broken = true
	}
}

func labelHelp(spec *blockSpec) string {
	if len(spec.labels) == 0 {
		return fmt.Sprintf("Write: %s {", spec.name)
	}
	form := spec.name
	for _, l := range spec.labels {
		if len(spec.labels) == 1 {
			form += ` "name"`
			break
		}
		form += fmt.Sprintf(" %q", l.what)
	}
	return fmt.Sprintf("Write: %s {", form)
}

func (s *shaper) unknownArg(a *syntax.Attr, n *node) {
	spec := n.spec
	at := syntax.Range(a.NameAt)
	if s.Full() {
		s.More++
		return
	}
	if ofTrain(spec) && s.uncovered(at, a.Name) {
		return
	}
	detail := ""
	if spec.block(a.Name) != nil {
		detail = fmt.Sprintf("%s is a block. %s", a.Name, labelHelp(spec.block(a.Name)))
	} else {
		// Offer what is not used in this block yet.
		var free, all []string
		for _, x := range spec.args {
			all = append(all, x.name)
			if !hasAttr(&n.block.Body, x.name) {
				free = append(free, x.name)
			}
		}
		detail = didYouMean(a.Name, free)
		if nearest(a.Name, free) == "" && len(all) > 0 {
			detail = fmt.Sprintf("A block %s has %s.", spec.name, orList(all))
		}
	}
	s.Add(engine.Diagnostic{Severity: engine.Error, Summary: fmt.Sprintf("unknown argument %q in block %s", syntax.Clip(a.Name), spec.name), Detail: detail, Subject: at, Context: n.at()})
}

func hasAttr(b *syntax.Body, name string) bool {
	for i := range b.Attrs {
		if b.Attrs[i].Name == name {
			return true
		}
	}
	return false
}

func (s *shaper) unknownBlock(b *syntax.Block, in *blockSpec) {
	if s.Full() {
		s.More++
		return
	}
	at := syntax.Range(b.TypeAt)
	if ofTrain(in) && s.uncovered(at, b.Type) {
		return
	}
	var names []string
	for _, c := range in.blocks {
		names = append(names, c.name)
	}
	where := "at the top of a file"
	if in != language {
		where = fmt.Sprintf("in block %s", in.name)
	}
	detail := ""
	switch {
	case in.arg(b.Type) != nil:
		detail = fmt.Sprintf("%s is an argument: %s = …", b.Type, b.Type)
	case in != language && language.block(b.Type) != nil:
		detail = fmt.Sprintf("A block %s goes at the top of a file, not inside another.", b.Type)
	case in == language && unitSpec.block(b.Type) != nil:
		detail = fmt.Sprintf("A block %s goes inside a unit.", b.Type)
	case nearest(b.Type, names) != "":
		detail = didYouMean(b.Type, names)
	case len(names) > 0:
		detail = "Known here: " + orList(names) + "."
	default:
		detail = fmt.Sprintf("A block %s has no blocks in it.", in.name)
	}
	s.Error(at, fmt.Sprintf("unknown block %q %s", syntax.Clip(b.Type), where), detail)
}

// key is what makes two blocks the same block.
func (n *node) key() string {
	k := n.spec.name
	for _, l := range n.labels {
		k += "\x00" + l
	}
	return k
}

// fullKey adds the condition where one belongs to the key.
func (n *node) fullKey() string {
	k := n.key()
	if n.spec.byWhen {
		if a := n.attr("when"); a != nil {
			k += "\x01" + a.Value.Text
		}
	}
	return k
}

// unclosed tells whether a block stands in another only because that was never
// closed: then it is the other that lacks its brace, and that is what is told.
func (s *shaper) unclosed(c *syntax.Block, in *node) bool {
	if !s.src.torn || syntax.Range(c.Head).Column > in.at().Column {
		return false
	}
	if s.open == nil {
		s.open, s.openBefore = in, syntax.Range(c.Head)
	}
	return true
}

// unique takes out blocks that stand twice, and says so with both places.
func (s *shaper) unique(list []*node) (kept []*node, twice []lostBlock) {
	if len(list) < 2 {
		return list, nil
	}
	seen := make(map[string]*node, len(list))
	out := list[:0]
	for _, n := range list {
		if n.spec.repeat || n.broken {
			out = append(out, n)
			continue
		}
		k := n.fullKey()
		if first := seen[k]; first != nil {
			duplicate(&s.problems, n, first)
			twice = append(twice, lostBlock{n.block, true})
			continue
		}
		seen[k] = n
		out = append(out, n)
	}
	return out, twice
}

func duplicate(p *problems, n, first *node) {
	detail := fmt.Sprintf("The first is at %s. Within one layer a block is written once.", first.at())
	if n.spec.byWhen {
		detail += " Two of one name differ in their `when`."
	}
	p.Add(engine.Diagnostic{Severity: engine.Error, Summary: fmt.Sprintf("%s given twice", n.title()), Detail: detail, Subject: n.at(), Also: first.at()})
}
