package syntax

import (
	"fmt"

	"slipcase/engine"
)

// Parse reads one file. The tree holds all that could be read; what could not
// has a diagnostic and is left out, or is a value of kind Bad.
func Parse(name, src string) (*File, Problems) {
	if len(src) > MaxBytes {
		f := &File{Name: name, Refused: true, lines: []int32{0}, ascii: true}
		return f, Problems{List: []engine.Diagnostic{TooLong(name, int64(len(src)))}}
	}
	s := newScanner(name, src)
	if !s.sound() {
		s.file.Refused = true
		return s.file, s.diags
	}
	p := &parser{scanner: s}
	p.advance()
	p.body(&s.file.Body, nil, 0)
	return s.file, s.diags
}

// TooLong is the diagnostic for a file over MaxBytes, which need not be read.
func TooLong(name string, size int64) engine.Diagnostic {
	return engine.Diagnostic{
		Severity: engine.Error,
		Summary:  "file too long",
		Detail:   fmt.Sprintf("A file of rules has at most %d KiB; this one has %d KiB. Split it.", MaxBytes>>10, (size+1023)>>10),
		Subject:  engine.Range{File: name, Line: 1, Column: 1, EndLine: 1, EndColumn: 1},
	}
}

// maxAttrs is more than any block of the language has; it bounds the search
// for arguments given twice.
const maxAttrs = 64

type parser struct {
	*scanner
	tok  token
	last int32 // end of the token before tok
	open int   // brackets open in the value being read
}

func (p *parser) advance() {
	p.last = p.tok.at.End
	p.tok = p.next()
}

// body reads arguments and blocks up to the closing brace of block, or to the
// end of the file when block is nil. It leaves the closing brace as the
// current token.
func (p *parser) body(b *Body, block *Block, depth int) {
	for {
		switch p.tok.kind {
		case tNewline:
			p.advance()
		case tEOF:
			if block != nil {
				p.fault(block.Head, "block without end", fmt.Sprintf("The file ends before the } that closes this %s block.", block.Type))
			}
			return
		case tCloseBrace:
			if block != nil {
				return
			}
			p.fault(p.tok.at, "closing brace too many", "No block is open here.")
			p.advance()
		case tIdent:
			p.item(b, depth)
		case tString:
			p.fault(p.tok.at, "text where an argument or block begins", `A line begins with the name of an argument or block, without quotes.`)
			p.skip()
		case tBad, tOpenOther, tCloseOther:
			p.skip()
		default:
			p.fault(p.tok.at, "not an argument or block", `A line is "name = value" or opens a block: type "name" {`)
			p.skip()
		}
	}
}

func (p *parser) item(b *Body, depth int) {
	name := p.tok
	p.advance()
	if p.tok.kind == tEqual {
		p.advance()
		v, ok := p.value(depth)
		a := Attr{Name: name.text, At: Span{name.at.Start, p.last}, Value: v}
		if !ok {
			p.skip()
		} else if !p.endOfLine("argument") {
			a.Value = v.bad()
		}
		b.attr(p, a)
		return
	}
	p.block(b, name, depth)
}

// attr adds an argument unless the body has one of this name.
func (b *Body) attr(p *parser, a Attr) {
	for i := range b.Attrs {
		if b.Attrs[i].Name == a.Name {
			first := p.file.Range(b.Attrs[i].NameAt())
			p.fault(a.NameAt(), fmt.Sprintf("argument %q given twice", clip(a.Name)), fmt.Sprintf("It was set first at line %d. Delete one.", first.Line))
			return
		}
	}
	if len(b.Attrs) >= maxAttrs {
		p.fault(a.NameAt(), "too many arguments", fmt.Sprintf("No block of the language has more than %d.", maxAttrs))
		return
	}
	b.Attrs = append(b.Attrs, a)
}

// endOfLine demands that the item ends here; false when there is more, which
// is told and passed over.
func (p *parser) endOfLine(what string) bool {
	switch p.tok.kind {
	case tNewline:
		p.advance()
		return true
	case tEOF:
		return true
	case tComma:
		p.fault(p.tok.at, "comma after "+what, "One argument per line, without a comma.")
		p.skip()
	case tBad, tOpenOther, tCloseOther:
		p.skip()
	case tOpenBracket, tDot:
		p.fault(p.tok.at, "nothing more belongs here", `A reference is two words: element.forward or shift["1-2"].`)
		p.skip()
	default:
		p.fault(p.tok.at, "line goes on after "+what, "One argument per line; a block's closing brace ends its line.")
		p.skip()
	}
	return false
}

// skip passes over the rest of an item that cannot be read: to the end of its
// line, or of the line where the brackets opened on it are closed again. It
// stops before a brace that closes the block around it.
func (p *parser) skip() {
	was := p.quiet
	p.quiet = true
	defer func() { p.quiet = was }()
	braces, brackets := 0, p.open
	p.open = 0
	for ; ; p.advance() {
		switch p.tok.kind {
		case tOpenBrace:
			braces++
		case tOpenBracket, tOpenOther:
			brackets++
		case tCloseBracket, tCloseOther:
			brackets = max(0, brackets-1)
		case tCloseBrace:
			// No bracket reaches over the brace that closes the block.
			if braces == 0 {
				return
			}
			braces--
		case tNewline:
			if braces == 0 && brackets == 0 {
				return
			}
		case tEOF:
			return
		}
	}
}

func (p *parser) block(b *Body, name token, depth int) {
	block := &Block{Type: name.text, Head: name.at}
	for p.tok.kind == tString || p.tok.kind == tIdent {
		if len(block.Labels) == 4 {
			p.fault(p.tok.at, "too many labels", "No block of the language has so many labels.")
			p.skip()
			return
		}
		block.Labels = append(block.Labels, Label{Text: p.tok.text, At: p.tok.at})
		block.Head.End = p.tok.at.End
		p.advance()
	}
	switch p.tok.kind {
	case tOpenBrace:
	case tBad, tOpenOther, tCloseOther:
		p.skip()
		return
	case tNewline:
		end := p.tok.at.Start
		for p.tok.kind == tNewline {
			p.advance()
		}
		if p.tok.kind != tOpenBrace {
			p.alone(block, end)
			return
		}
		p.fault(p.tok.at, "brace on the next line", "The opening { stands on the line of the block's type and labels.")
	default:
		p.alone(block, p.tok.at.Start)
		p.skip()
		return
	}
	if depth >= MaxDepth {
		p.fault(p.tok.at, "nested too deep", fmt.Sprintf("Blocks and lists go at most %d deep.", MaxDepth))
		p.skip()
		return
	}
	b.Blocks = append(b.Blocks, block)
	p.advance()
	switch p.tok.kind {
	case tNewline:
		p.advance()
		p.body(&block.Body, block, depth+1)
	case tCloseBrace:
	case tIdent: // one argument on the line of the braces
		p.short(block, depth)
	case tEOF:
		p.body(&block.Body, block, depth+1)
	default:
		if p.tok.kind != tBad {
			p.fault(p.tok.at, "line goes on after the brace", "The block's first argument goes on the next line.")
		}
		p.skip()
		p.body(&block.Body, block, depth+1)
	}
	block.At = Span{block.Head.Start, p.tok.at.End}
	if p.tok.kind != tCloseBrace {
		return
	}
	p.advance()
	p.endOfLine("block")
}

// alone reports the head of a block, or a name, that nothing follows.
func (p *parser) alone(block *Block, end int32) {
	if len(block.Labels) == 0 {
		p.fault(block.Head, fmt.Sprintf("%q alone", clip(block.Type)), `Write "name = value" for an argument, or type "name" { for a block.`)
		return
	}
	p.fault(Span{block.Head.Start, end}, "block without opening brace", "The opening { stands on the line of the block's type and labels.")
}

// short reads the rest of `type "name" { argument = value }`.
func (p *parser) short(block *Block, depth int) {
	name := p.tok
	p.advance()
	if p.tok.kind != tEqual {
		p.fault(name.at, "block within a one-line block", "A block on one line holds one argument at most. Put each on a line of its own.")
		p.skip()
	} else {
		p.advance()
		v, ok := p.value(depth + 1)
		block.Body.attr(p, Attr{Name: name.text, At: Span{name.at.Start, p.last}, Value: v})
		if !ok {
			p.skip()
		}
	}
	if p.tok.kind == tCloseBrace {
		return
	}
	p.fault(p.tok.at, "one-line block goes on", "A block on one line holds one argument and closes at once. Put each on a line of its own.")
	p.skip()
	p.body(&block.Body, block, depth+1)
}

// value reads one value; ok is false when a diagnostic was given and the rest
// of the item is to be skipped.
func (p *parser) value(depth int) (v Value, ok bool) {
	start := p.tok
	v.At = start.at
	switch start.kind {
	case tString:
		v.Kind, v.Text = String, start.text
		p.advance()
		return v, true
	case tNumber:
		v.Kind, v.Text = Number, start.text
		p.advance()
		return v, true
	case tMinus:
		p.advance()
		if p.tok.kind != tNumber {
			if p.tok.kind != tBad {
				p.fault(Span{start.at.Start, p.tok.at.End}, "minus without a number", "One minus may stand before a number; there is no other use for it.")
			}
			return v, false
		}
		v.Kind, v.Text = Number, "-"+p.tok.text
		v.At.End = p.tok.at.End
		p.advance()
		return v, true
	case tIdent:
		return p.word()
	case tOpenBracket:
		return p.list(depth)
	case tOpenBrace:
		p.fault(start.at, "object", "The rule language has no objects. Use a block: the name, then { on the same line, without =.")
	case tNewline, tEOF:
		p.fault(Span{p.last, p.last}, "value missing", "After = comes a value: text in quotes, a number, a word or a list.")
	case tBad, tOpenOther, tCloseOther:
	default:
		p.fault(start.at, "not a value", "After = comes a value: text in quotes, a number, a word or a list.")
	}
	return v, false
}

// word reads a bare word, or a reference of two words.
func (p *parser) word() (v Value, ok bool) {
	first := p.tok
	v = Value{Kind: Word, Text: first.text, At: first.at}
	switch first.text {
	case "for":
		p.fault(first.at, "for expression", "The rule language has no for. Write the list out.")
		return v.bad(), false
	case "null":
		p.fault(first.at, "null", "There is no null. Leave the argument out.")
		return v.bad(), false
	}
	p.advance()
	if p.tok.kind != tDot && p.tok.kind != tOpenBracket {
		return v, true
	}
	if first.text == "true" || first.text == "false" {
		p.fault(p.tok.at, "nothing more belongs here", "true and false stand alone.")
		return v.bad(), false
	}
	dot := p.tok.kind == tDot
	p.advance()
	if !dot {
		p.open++
	}
	switch {
	case dot && p.tok.kind == tIdent, !dot && p.tok.kind == tString:
		v.Kind, v.Key = Ref, p.tok.text
		v.At.End = p.tok.at.End
		p.advance()
	case p.tok.kind == tBad || p.tok.kind == tOpenOther || p.tok.kind == tCloseOther:
		return v.bad(), false
	case dot:
		p.fault(p.tok.at, "reference without its second word", `A reference is two words: element.forward. A name that does not start with a letter goes in brackets: shift["1-2"].`)
		return v.bad(), false
	default:
		p.fault(p.tok.at, "index without a name", `Between the brackets stands one name in quotes: shift["1-2"].`)
		return v.bad(), false
	}
	if !dot {
		if p.tok.kind != tCloseBracket {
			if p.tok.kind != tBad {
				p.fault(p.tok.at, "bracket not closed", `Between the brackets stands one name in quotes: shift["1-2"].`)
			}
			return v.bad(), false
		}
		v.At.End = p.tok.at.End
		p.open--
		p.advance()
	}
	if p.tok.kind == tDot || p.tok.kind == tOpenBracket {
		p.fault(p.tok.at, "nothing more belongs here", `A reference is two words: element.forward or shift["1-2"].`)
		return v.bad(), false
	}
	return v, true
}

func (v Value) bad() Value { return Value{Kind: Bad, At: v.At} }

func (p *parser) list(depth int) (v Value, ok bool) {
	open := p.tok.at
	v = Value{Kind: List, At: open}
	if depth >= MaxDepth {
		p.fault(open, "nested too deep", fmt.Sprintf("Blocks and lists go at most %d deep.", MaxDepth))
		return v.bad(), false
	}
	p.open++
	p.advance()
	for {
		p.blank()
		if p.tok.kind == tCloseBracket {
			break
		}
		if p.tok.kind == tEOF || p.tok.kind == tCloseBrace {
			p.fault(open, "list without end", "The ] that closes this list is missing.")
			return v.bad(), false
		}
		item, good := p.value(depth + 1)
		if !good {
			return v.bad(), false
		}
		v.Items = append(v.Items, item)
		p.blank()
		switch p.tok.kind {
		case tComma:
			p.advance()
		case tCloseBracket:
		case tBad, tOpenOther, tCloseOther:
			return v.bad(), false
		case tEOF, tCloseBrace:
			p.fault(open, "list without end", "The ] that closes this list is missing.")
			return v.bad(), false
		default:
			p.fault(p.tok.at, "comma missing in a list", "Items of a list are parted by commas, and the list ends with ].")
			return v.bad(), false
		}
	}
	v.At.End = p.tok.at.End
	p.open--
	p.advance()
	return v, true
}

// blank passes over newlines, which mean nothing within a list.
func (p *parser) blank() {
	for p.tok.kind == tNewline {
		p.advance()
	}
}
