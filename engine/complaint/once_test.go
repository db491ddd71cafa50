package complaint_test

import (
	"context"
	"reflect"
	"sync"
	"testing"

	"slipcase/engine/complaint"
)

// The matcher of a model is made once, also for what is copied from it; it does not hang
// on who asked first, and many may ask it at once.
func TestMadeOnce(t *testing.T) {
	m := modelOf(t)
	ended, end := context.WithCancel(t.Context())
	end()
	first := complaint.New(m.WithContext(ended))
	if complaint.New(m) != first {
		t.Error("made again for the same model")
	}
	if complaint.New(modelOf(t)) == first {
		t.Error("another model has the same one")
	}
	const said = "it sliips in third and reverse, second is fine"
	want := first.Match(said)
	if len(want) == 0 {
		t.Fatal("nothing is read from it")
	}
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			if got := complaint.New(m).Match(said); !reflect.DeepEqual(got, want) {
				t.Errorf("at once with others %v, want %v", got, want)
			}
		})
	}
	all.Wait()
}
