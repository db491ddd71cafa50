package bench

import (
	"errors"
	"slices"
	"sync"
)

// kept holds what was worked out, by what it depends on, so that a page that is
// looked at again, on this tablet or another, is there at once. What is asked
// for twice at the same moment is made once.
type kept struct {
	mu    sync.Mutex
	of    map[string]*held
	order []string // names, oldest first
}

type held struct {
	once  sync.Once
	value any
	err   error
}

// mostKept answers are kept: a page takes some 50 kB, the log of a long case
// ten times as much.
const mostKept = 300

// remember gives what make gives, once for each name. Failures are not kept.
func remember[T any](k *kept, name string, make func() (T, error)) (T, error) {
	k.mu.Lock()
	h := k.of[name]
	if h == nil {
		h = &held{}
		if k.of == nil {
			k.of = map[string]*held{}
		}
		k.of[name] = h
		if k.order = append(k.order, name); len(k.order) > mostKept {
			delete(k.of, k.order[0])
			k.order = k.order[1:]
		}
	}
	k.mu.Unlock()
	h.once.Do(func() {
		h.err = errors.New("the answer could not be worked out") // where make panics
		h.value, h.err = make()
	})
	v, _ := h.value.(T)
	if h.err != nil {
		k.mu.Lock()
		if k.of[name] == h {
			delete(k.of, name)
			k.order = slices.DeleteFunc(k.order, func(n string) bool { return n == name })
		}
		k.mu.Unlock()
	}
	return v, h.err
}
