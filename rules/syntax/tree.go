package syntax

import (
	"sort"
	"unicode/utf8"

	"slipcase/engine"
)

// Limits of a file. A file beyond them is refused, not cut.
const (
	MaxBytes    = 256 << 10 // length of a file
	MaxDepth    = 32        // blocks and lists within one another
	MaxExponent = 30        // powers of ten in a number
	MaxDigits   = 40        // characters of a number
	MaxProblems = 100       // diagnostics kept for a file; the rest are counted
)

// Span is a stretch of the file in bytes from its start, end excluded.
type Span struct{ Start, End int32 }

// File is one file read: its tree, and what is needed to turn offsets into
// lines and columns. It does not change once read.
type File struct {
	Name string
	Src  string
	Body Body
	// Refused says that the text as a whole could not be read; there is no
	// tree.
	Refused bool
	lines   []int32 // offset of the first byte of each line
	marks   []mark  // columns at token ends, on lines that hold more than ASCII
	ascii   bool
}

type mark struct{ offset, column int32 }

// Body holds arguments and blocks in the order of the file.
type Body struct {
	Attrs  []Attr
	Blocks []*Block
}

// Attr is one argument, `name = value`.
type Attr struct {
	Name  string
	At    Span // name to the end of the value
	Value Value
}

// NameAt is the span of the argument's name.
func (a Attr) NameAt() Span { return Span{a.At.Start, a.At.Start + int32(len(a.Name))} }

// Block is one block, `type "label" { … }`.
type Block struct {
	Type   string
	Labels []Label
	Body   Body
	Head   Span // type to the last label
	At     Span // type to the closing brace
}

// TypeAt is the span of the block's type.
func (b *Block) TypeAt() Span { return Span{b.Head.Start, b.Head.Start + int32(len(b.Type))} }

// Label is one label of a block.
type Label struct {
	Text string
	At   Span
}

// Kind is what a value is.
type Kind uint8

// The kinds of values.
const (
	Bad    Kind = iota // could not be read; a diagnostic says why
	String             // "text"
	Number             // 2.80, -1
	Word               // single, true, false
	Ref                // element.forward, shift["1-2"]
	List               // [ … ]
)

// Value is what stands right of an equals sign or within a list.
type Value struct {
	Kind  Kind
	Text  string // a string's text, a number or word as written, a reference's first word
	Key   string // a reference's second word
	Items []Value
	At    Span
}

// Range turns a span into lines and columns.
func (f *File) Range(s Span) engine.Range {
	r := engine.Range{File: f.Name, Byte: int(s.Start), EndByte: int(s.End)}
	r.Line, r.Column = f.position(s.Start)
	if s.End == s.Start {
		r.EndLine, r.EndColumn = r.Line, r.Column
	} else {
		r.EndLine, r.EndColumn = f.position(s.End)
	}
	return r
}

func (f *File) position(offset int32) (line, column int) {
	n := sort.Search(len(f.lines), func(i int) bool { return f.lines[i] > offset })
	if n == 0 {
		return 1, 1
	}
	start := f.lines[n-1]
	if !f.ascii {
		i := sort.Search(len(f.marks), func(i int) bool { return f.marks[i].offset > offset })
		if i > 0 && f.marks[i-1].offset >= start {
			m := f.marks[i-1]
			// Between marks there are only spaces and punctuation, or the
			// place of a fault inside a token.
			return n, int(m.column) + utf8.RuneCountInString(f.Src[m.offset:offset])
		}
		return n, utf8.RuneCountInString(f.Src[start:offset]) + 1
	}
	return n, int(offset-start) + 1
}

// Same tells whether two bodies say the same in the same order; where they
// stand does not matter.
func Same(a, b *Body) bool {
	if len(a.Attrs) != len(b.Attrs) || len(a.Blocks) != len(b.Blocks) {
		return false
	}
	for i := range a.Attrs {
		if a.Attrs[i].Name != b.Attrs[i].Name || !SameValue(&a.Attrs[i].Value, &b.Attrs[i].Value) {
			return false
		}
	}
	for i := range a.Blocks {
		x, y := a.Blocks[i], b.Blocks[i]
		if x.Type != y.Type || len(x.Labels) != len(y.Labels) || !Same(&x.Body, &y.Body) {
			return false
		}
		for j := range x.Labels {
			if x.Labels[j].Text != y.Labels[j].Text {
				return false
			}
		}
	}
	return true
}

// SameValue tells whether two values are written alike.
func SameValue(a, b *Value) bool {
	if a.Kind != b.Kind || a.Text != b.Text || a.Key != b.Key || len(a.Items) != len(b.Items) {
		return false
	}
	for i := range a.Items {
		if !SameValue(&a.Items[i], &b.Items[i]) {
			return false
		}
	}
	return true
}
