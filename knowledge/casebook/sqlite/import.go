package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"io"

	"slipcase/engine"
	"slipcase/knowledge/casebook/internal/records"
)

// Import implements engine.Casebook. The write lock is held from the first
// line to the last.
func (b *Book) Import(ctx context.Context, name string, r io.Reader) (engine.ImportResult, error) {
	if name == "" {
		name = "import"
	}
	var result engine.ImportResult
	err := b.write(ctx, "import "+name, func(tx *txn) (err error) {
		result, err = records.ReadExport(ctx, name, r, &target{ctx, b, tx})
		return err
	})
	if err != nil {
		return engine.ImportResult{}, err
	}
	return result, nil
}

// target is a transaction that an import writes to.
type target struct {
	ctx context.Context
	b   *Book
	tx  *txn
}

// Known implements records.Target.
func (t *target) Known(id string) (bool, error) { return known(t.ctx, t.tx, id) }

// Load implements records.Target.
func (t *target) Load(id string) (*records.Held, error) { return t.b.load(t.ctx, t.tx, id) }

// OpenedWith implements records.Target.
func (t *target) OpenedWith(key string) (id string, err error) {
	err = t.tx.QueryRowContext(t.ctx, `SELECT id FROM cases WHERE "key" = ?`, key).Scan(&id)
	if errors.Is(err, sql.ErrNoRows) {
		return "", nil
	}
	return id, err
}

// Insert implements records.Target.
func (t *target) Insert(id string, o engine.Opening) (*records.Held, error) {
	return insertOpening(t.ctx, t.tx, id, o)
}

// Add implements records.Target.
func (t *target) Add(h *records.Held, e engine.Entry) error { return insertEntry(t.ctx, t.tx, h, e) }

// Derive implements records.Target.
func (t *target) Derive(h *records.Held) error { return derive(t.ctx, t.tx, nil, h) }

func known(ctx context.Context, tx *txn, id string) (bool, error) {
	var n int
	err := tx.QueryRowContext(ctx, "SELECT count(*) FROM cases WHERE id = ?", id).Scan(&n)
	return n > 0, err
}
