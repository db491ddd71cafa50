package syntax

import (
	"github.com/hashicorp/hcl/v2"

	"slipcase/engine"
)

// File is one file read. It does not change once read.
type File struct {
	Name string
	Src  string
	Body Body
	// Refused says that the text as a whole could not be read; there is no
	// tree.
	Refused bool
}

// Body holds arguments and blocks in the order of the file.
type Body struct {
	Attrs  []Attr
	Blocks []*Block
}

// Attr is one argument, `name = value`.
type Attr struct {
	Name   string
	NameAt hcl.Range
	At     hcl.Range // name to the end of the value
	Value  Value
}

// Block is one block, `type "label" { … }`.
type Block struct {
	Type   string
	Labels []Label
	Body   Body
	TypeAt hcl.Range
	Head   hcl.Range // type to the last label
	Open   hcl.Range // its braces
	Close  hcl.Range
}

// Label is one label of a block.
type Label struct {
	Text string
	At   hcl.Range
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
	At    hcl.Range
}

// Range is a place of HCL's as the engine's.
func Range(r hcl.Range) engine.Range {
	return engine.Range{
		File: r.Filename, Byte: r.Start.Byte, EndByte: r.End.Byte,
		Line: r.Start.Line, Column: r.Start.Column, EndLine: r.End.Line, EndColumn: r.End.Column,
	}
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
