package table

import (
	"strings"

	"github.com/olekukonko/tablewriter/pkg/twwidth"
)

// Width is the number of columns that a text takes on a terminal; color codes
// take none.
func Width(s string) int { return twwidth.Width(s) }

// item begins a line that is an item of a list: further lines stand under its
// text.
const item = "- "

// Wrap breaks a text into lines of at most width columns. Line breaks in the
// text stay. The result has at least one line.
func Wrap(s string, width int) []string {
	s = Clean(s)
	if width < 1 {
		width = 1
	}
	var out []string
	for _, para := range strings.Split(s, "\n") {
		if rest, ok := strings.CutPrefix(para, item); ok && width > 3*len(item) {
			for i, l := range wrapLine(rest, width-len(item)) {
				lead := item
				if i > 0 {
					lead = strings.Repeat(" ", len(item))
				}
				out = append(out, lead+l)
			}
			continue
		}
		out = append(out, wrapLine(para, width)...)
	}
	return out
}

func wrapLine(s string, width int) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(s) {
		switch {
		case line == "" && Width(word) <= width:
			line = word
		case line != "" && Width(line)+1+Width(word) <= width:
			line += " " + word
		default:
			if Width(word) <= width {
				out = append(out, line)
				line = word
				continue
			}
			// A name too long for a line of its own: start it on this line
			// when its first piece fits there.
			room := width - Width(line) - 1
			if line == "" {
				room = width
			}
			pieces := breakWord(word, room, width)
			if line != "" {
				if Width(pieces[0]) <= room {
					pieces[0] = line + " " + pieces[0]
				} else {
					out = append(out, line)
				}
			}
			out = append(out, pieces[:len(pieces)-1]...)
			line = pieces[len(pieces)-1]
		}
	}
	return append(out, line)
}

// breakWord cuts a word into pieces of at most width columns (the first of at
// most first, or of at most width where nothing of it fits there), at its
// joints if it has any.
func breakWord(word string, first, width int) []string {
	var out []string
	limit := first
	piece := ""
	add := func(s string) {
		if piece != "" && Width(piece)+Width(s) > limit {
			out = append(out, piece)
			piece, limit = "", width
		}
		piece += s
	}
	for i, part := range joints(word) {
		if i == 0 && Width(part) > first {
			limit = width
		}
		if Width(part) <= width {
			add(part)
			continue
		}
		for _, r := range part {
			add(string(r))
		}
	}
	return append(out, piece)
}

// joints splits a word after the characters at which it may be broken.
func joints(word string) []string {
	var out []string
	start := 0
	for i, r := range word {
		if strings.ContainsRune("/_@-,.|=:", r) && i > start {
			next := i + len(string(r))
			out = append(out, word[start:next])
			start = next
		}
	}
	if start < len(word) {
		out = append(out, word[start:])
	}
	return out
}

// longest is the width of the longest word of a text, taken apart at its
// joints when it is wider than limit.
func longest(s string, limit int) int {
	most := 0
	for _, word := range strings.Fields(s) {
		w := Width(word)
		if w > limit {
			w = 0
			for _, p := range joints(word) {
				w = max(w, Width(p))
			}
			w = min(w, limit)
		}
		most = max(most, w)
	}
	return most
}
