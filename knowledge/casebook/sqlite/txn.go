package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
)

// txn is a transaction that prepares every statement once; an import runs the
// same ten statements a million times.
type txn struct {
	*sql.Tx
	prepared map[string]*sql.Stmt
}

func (t *txn) stmt(ctx context.Context, query string) (*sql.Stmt, error) {
	if s := t.prepared[query]; s != nil {
		return s, nil
	}
	s, err := t.PrepareContext(ctx, query)
	if err == nil {
		t.prepared[query] = s
	}
	return s, err
}

// ExecContext is that of sql.Tx, for one statement.
func (t *txn) ExecContext(ctx context.Context, query string, args ...any) (sql.Result, error) {
	s, err := t.stmt(ctx, query)
	if err != nil {
		return nil, err
	}
	return s.ExecContext(ctx, args...)
}

// QueryContext is that of sql.Tx.
func (t *txn) QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error) {
	s, err := t.stmt(ctx, query)
	if err != nil {
		return nil, err
	}
	return s.QueryContext(ctx, args...)
}

// QueryRowContext is that of sql.Tx.
func (t *txn) QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row {
	s, err := t.stmt(ctx, query)
	if err != nil {
		return t.Tx.QueryRowContext(ctx, query, args...) // for its error
	}
	return s.QueryRowContext(ctx, args...)
}

// write runs f in one immediate transaction.
func (b *Book) write(ctx context.Context, doing string, f func(*txn) error) error {
	tx, err := b.writer.BeginTx(ctx, nil)
	if err != nil {
		return b.fault(doing, err)
	}
	if err := f(&txn{tx, map[string]*sql.Stmt{}}); err != nil {
		tx.Rollback()
		return b.fault(doing, endedOr(ctx, err))
	}
	return b.fault(doing, endedOr(ctx, tx.Commit()))
}

// endedOr is the error of a context that ended in the midst of a transaction:
// database/sql then speaks of a statement that is closed, or of a transaction
// that is over.
func endedOr(ctx context.Context, err error) error {
	if end := ctx.Err(); err != nil && end != nil && !errors.Is(err, end) {
		return fmt.Errorf("%w (%v)", end, err)
	}
	return err
}

// read runs f on one state of the casebook, whatever others write meanwhile.
func (b *Book) read(ctx context.Context, doing string, f func(*txn) error) error {
	return b.readFrom(ctx, b.reader, doing, f)
}

func (b *Book) readFrom(ctx context.Context, db *sql.DB, doing string, f func(*txn) error) error {
	tx, err := db.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return b.fault(doing, err)
	}
	defer tx.Rollback()
	return b.fault(doing, endedOr(ctx, f(&txn{tx, map[string]*sql.Stmt{}})))
}
