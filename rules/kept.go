package rules

import (
	"crypto/sha256"
	"strings"
	"sync"

	"slipcase/rules/diag"
	"slipcase/rules/syntax"
)

// Parsing is most of what loading rules takes, and most files are the same in the next
// load: of a page whose shop's folder changed, of an edit that reads all before and
// after, of tests. So the trees of files that were read twice by one process are kept,
// by name and bytes; nobody changes a tree. A process that reads each once, as most
// commands do, keeps none.
var trees = kept{seen: map[text]*syntax.File{}}

// mostSource bounds the source in bytes whose trees are kept: more than twice that of
// the built-in rules with their usual parts written out, which are 0.8 MB and 10 MB of
// trees. mostSeen bounds the names of texts.
const (
	mostSource = 2 << 20
	mostSeen   = 1 << 12
)

// text is what a file holds, and what of it is passed over.
type text struct {
	name, without string
	sum           [sha256.Size]byte
}

type kept struct {
	mu     sync.Mutex
	seen   map[text]*syntax.File // nil where it was read once
	source int                   // bytes
}

// parse is syntax.Parse of a file whose checksum is known. The tree must not be changed.
func (k *kept) parse(name, src string, sum [sha256.Size]byte, without []string) (*syntax.File, diag.Collector) {
	t := text{name, strings.Join(without, " "), sum}
	k.mu.Lock()
	file, again := k.seen[t]
	k.mu.Unlock()
	if file != nil {
		return file, diag.Collector{}
	}
	file, found := syntax.Parse(name, src, without...)
	if file.Refused || len(found.List) > 0 || found.More > 0 {
		return file, found // it is mended sooner than read again
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.source > mostSource || len(k.seen) >= mostSeen {
		clear(k.seen)
		k.source = 0
	}
	switch tree, there := k.seen[t]; {
	case !there:
		k.seen[t] = nil
	case again && tree == nil:
		k.seen[t] = file
		k.source += len(src)
	}
	return file, found
}
