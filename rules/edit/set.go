package edit

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/hashicorp/hcl/v2/hclwrite"
	"github.com/zclconf/go-cty/cty"

	"slipcase/engine"
	"slipcase/engine/refine/rulepath"
	"slipcase/rules"
	"slipcase/rules/syntax"
)

// Change is one number to set.
type Change struct {
	Path  rulepath.Path
	Text  string // the number as it is to be written: "0.0234"
	Cases int    // of the shop record: the cases behind it, at least 1
	Note  string // of the shop record; "" for none
	// Was is what stood for the number where the rules have none of its own yet:
	// the rate of its kind, for that of a single part.
	Was Origin
}

// Set makes one change in the text of one file and gives the new text. done is
// false when the file holds no block on the way to the number; then nothing is
// changed. name stands in messages.
func Set(name string, src []byte, c Change) (out []byte, done bool, err error) {
	if err := c.check(); err != nil {
		return nil, false, err
	}
	c.Note = clean(c.Note)
	t, err := read(name, src)
	if err != nil {
		return nil, false, err
	}
	depth := 0
	for depth < len(c.Path.Blocks) && t.find(c.Path.Blocks[:depth+1]) != nil {
		depth++
	}
	if depth == 0 {
		return src, false, nil
	}
	find := func() *syntax.Block { return t.find(c.Path.Blocks[:depth]) }
	if depth < len(c.Path.Blocks) {
		err = t.insert(find, written(c.Path.Blocks[depth:], c))
	} else {
		err = t.change(find, c)
	}
	if err == nil {
		err = compare(name, src, t.src, []Change{c})
	}
	if err != nil {
		return nil, false, fmt.Errorf("%s: %s: %w", name, c.Path, err)
	}
	return t.src, true, nil
}

// Add writes one change as a new block at the end of a file; a file without
// text becomes one.
func Add(name string, src []byte, c Change) ([]byte, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	c.Note = clean(c.Note)
	if len(src) == 0 {
		src = []byte(fmt.Sprintf("language = %d\n", rules.LanguageVersion))
	}
	t, err := read(name, src)
	if err != nil {
		return nil, err
	}
	lines := t.layout(written(c.Path.Blocks, c), "")
	head := t.nl
	if t.src[len(t.src)-1] != '\n' {
		head = t.nl + t.nl
	}
	end := len(t.src)
	if err := t.splice(end, end, head+lines); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if err := compare(name, src, t.src, []Change{c}); err != nil {
		return nil, fmt.Errorf("%s: %s: %w", name, c.Path, err)
	}
	return t.src, nil
}

func (c Change) check() error {
	v, err := strconv.ParseFloat(c.Text, 64)
	switch {
	case len(c.Path.Blocks) == 0 || c.Path.Argument == "":
		return fmt.Errorf("edit: a change without the path of its number")
	case err != nil || !(v >= 0 && v <= 1) || strings.ContainsAny(c.Text, "+-_xXpPnNiI") || strings.HasPrefix(c.Text, "."):
		return fmt.Errorf("edit: %s: %q is not a number from 0 to 1 as the rule language writes it", c.Path, c.Text)
	case c.Cases < 1:
		return fmt.Errorf("edit: %s: a shop record has at least one case behind it", c.Path)
	}
	return nil
}

// find is the block at the end of a path, or nil. The condition is part of
// the key where the path has one or the block has one.
func (t *text) find(path []rulepath.Block) *syntax.Block {
	body := &t.file.Body
	var at *syntax.Block
	for _, p := range path {
		at = nil
		for _, b := range body.Blocks {
			if is(b, p) {
				at = b
				break
			}
		}
		if at == nil {
			return nil
		}
		body = &at.Body
	}
	return at
}

func is(b *syntax.Block, p rulepath.Block) bool {
	if b.Type != p.Type || len(b.Labels) != len(p.Labels) {
		return false
	}
	for i, l := range b.Labels {
		if l.Text != p.Labels[i] {
			return false
		}
	}
	when := ""
	if a := attr(&b.Body, "when"); a != nil {
		when = a.Value.Text
	}
	return when == string(p.When)
}

// change sets the number of a block that is there, with its basis.
func (t *text) change(find func() *syntax.Block, c Change) error {
	if attr(&find().Body, "drop") != nil {
		return fmt.Errorf("the shop's rules drop this block; take `drop` out first")
	}
	// The new basis is for this number alone: blocks within that lived by the
	// basis around them get that one of their own.
	if old := t.basisAround(find()); old != nil {
		for i := range find().Body.Blocks {
			child := func() *syntax.Block { return find().Body.Blocks[i] }
			if b := child(); b.Type != "basis" && bare(b) {
				if err := t.insert(child, copied(old)); err != nil {
					return err
				}
			}
		}
	}
	if err := t.put(find, c.Path.Argument, c.Text); err != nil {
		return err
	}
	own := func() *syntax.Block { return basisIn(&find().Body) }
	if own() == nil {
		return t.insert(find, basisText(c))
	}
	if len(own().Labels) != 1 {
		return fmt.Errorf("its basis block has no kind")
	}
	l := own().Labels[0]
	if err := t.splice(l.At.Start.Byte, l.At.End.Byte, strconv.Quote(string(engine.ShopRecord))); err != nil {
		return err
	}
	if err := t.put(own, "cases", strconv.Itoa(c.Cases)); err != nil {
		return err
	}
	if c.Note != "" {
		if err := t.put(own, "note", syntax.Quote(c.Note)); err != nil {
			return err
		}
	}
	return t.drop(own, "cite")
}

func basisIn(b *syntax.Body) *syntax.Block {
	for _, c := range b.Blocks {
		if c.Type == "basis" {
			return c
		}
	}
	return nil
}

// basisAround is the basis that holds in a block: its own or the nearest
// around it.
func (t *text) basisAround(b *syntax.Block) *syntax.Block {
	found := basisIn(&t.file.Body)
	body := &t.file.Body
	for body != &b.Body {
		var in *syntax.Block
		for _, c := range body.Blocks {
			if c.Open.Start.Byte < b.Open.Start.Byte && b.Close.End.Byte < c.Close.End.Byte || c == b {
				in = c
			}
		}
		if in == nil {
			break
		}
		body = &in.Body
		if own := basisIn(body); own != nil {
			found = own
		}
	}
	return found
}

// bare tells whether a block holds an argument that needs a basis and none of
// its blocks' basis covers it.
func bare(b *syntax.Block) bool {
	if basisIn(&b.Body) != nil {
		return false
	}
	for i := range b.Body.Attrs {
		if needsBasis(&b.Body.Attrs[i]) {
			return true
		}
	}
	for _, c := range b.Body.Blocks {
		if c.Type != "basis" && bare(c) {
			return true
		}
	}
	return false
}

// needsBasis is true of every number, and of the words for strengths.
func needsBasis(a *syntax.Attr) bool {
	return a.Value.Kind == syntax.Number || a.Name == "strength"
}

// written is a new block with all blocks on the way to its number.
func written(path []rulepath.Block, c Change) string {
	f := hclwrite.NewEmptyFile()
	body := f.Body()
	for _, p := range path {
		body = body.AppendNewBlock(p.Type, p.Labels).Body()
	}
	body.SetAttributeRaw(c.Path.Argument, word(c.Text, hclsyntax.TokenNumberLit))
	if w := path[len(path)-1].When; w != "" {
		body.SetAttributeRaw("when", word(string(w), hclsyntax.TokenIdent))
	}
	record(body, c)
	return string(hclwrite.Format(f.Bytes()))
}

func word(s string, typ hclsyntax.TokenType) hclwrite.Tokens {
	return hclwrite.Tokens{{Type: typ, Bytes: []byte(s)}}
}

func record(body *hclwrite.Body, c Change) {
	b := body.AppendNewBlock("basis", []string{string(engine.ShopRecord)}).Body()
	b.SetAttributeRaw("cases", word(strconv.Itoa(c.Cases), hclsyntax.TokenNumberLit))
	if c.Note != "" {
		b.SetAttributeValue("note", cty.StringVal(c.Note))
	}
}

func basisText(c Change) string {
	f := hclwrite.NewEmptyFile()
	record(f.Body(), c)
	return string(hclwrite.Format(f.Bytes()))
}

// copied is a basis block written out again.
func copied(b *syntax.Block) string {
	f := hclwrite.NewEmptyFile()
	var labels []string
	for _, l := range b.Labels {
		labels = append(labels, l.Text)
	}
	body := f.Body().AppendNewBlock("basis", labels).Body()
	for i := range b.Body.Attrs {
		a := &b.Body.Attrs[i]
		switch a.Value.Kind {
		case syntax.String:
			body.SetAttributeValue(a.Name, cty.StringVal(a.Value.Text))
		case syntax.Number:
			body.SetAttributeRaw(a.Name, word(a.Value.Text, hclsyntax.TokenNumberLit))
		}
	}
	return string(hclwrite.Format(f.Bytes()))
}
