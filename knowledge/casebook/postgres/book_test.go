package postgres

import (
	"context"
	"os"
	"testing"
	"time"

	"slipcase/engine"
	"slipcase/knowledge/casebook/contract"
	"slipcase/knowledge/casebook/postgres/throwaway"
)

var bg = context.Background()

func TestMain(m *testing.M) {
	if role := os.Getenv(roleVariable); role != "" {
		os.Exit(playRole(role))
	}
	code := m.Run()
	throwaway.Done()
	os.Exit(code)
}

// open opens a casebook and closes it when the test ends.
func open(t testing.TB, url string, opt Options) *Book {
	t.Helper()
	if opt.Clock == nil {
		opt.Clock = contract.Steady
	}
	b, err := Open(bg, url, opt)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { b.Close() })
	return b
}

func empty(t testing.TB) string {
	s := throwaway.Shared(t)
	return s.URL(s.Database(t))
}

func TestContract(t *testing.T) {
	contract.Run(t, func(t testing.TB, clock func() time.Time) engine.Casebook {
		return open(t, empty(t), Options{Clock: clock})
	})
}
