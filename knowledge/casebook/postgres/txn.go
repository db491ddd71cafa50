package postgres

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"time"

	"github.com/jackc/pgx/v5"

	"slipcase/engine"
)

// patiently does f again, for as long as the book waits, while its error is of
// a kind that passes.
func (b *Book) patiently(ctx context.Context, passes func(error) bool, f func() error) error {
	end := time.Now().Add(b.opt.Wait)
	for try := 0; ; try++ {
		err := f()
		if err == nil || !passes(err) || time.Now().After(end) {
			return err
		}
		if err := pause(ctx, try); err != nil {
			return b.fault("wait for the server", err)
		}
	}
}

// pause waits longer from try to try, by chance, so that two that were in each
// other's way do not meet again.
func pause(ctx context.Context, try int) error {
	most := time.Duration(10<<min(try, 5)) * time.Millisecond
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-time.After(most/4 + rand.N(most)):
		return nil
	}
}

// read runs f on one state of the casebook, whatever others write meanwhile.
func (b *Book) read(ctx context.Context, doing string, f func(pgx.Tx) error) error {
	tx, err := b.pool.BeginTx(ctx, pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly})
	if err != nil {
		return b.fault(doing, err)
	}
	defer tx.Rollback(context.WithoutCancel(ctx))
	return b.fault(doing, f(tx))
}

// readAgain is read for an f that may be begun anew when the connection breaks.
func (b *Book) readAgain(ctx context.Context, doing string, f func(pgx.Tx) error) error {
	return b.patiently(ctx, lost, func() error { return b.read(ctx, doing, f) })
}

// write runs f in one serializable transaction, again while others are in the
// way or the connection breaks before it is done. f must set what it gives
// anew each time. With the error engine.ErrUncertain it is not known whether
// the server did it.
func (b *Book) write(ctx context.Context, doing string, f func(pgx.Tx) error) error {
	try := 0
	err := b.patiently(ctx, func(err error) bool { return conflict(err) || lost(err) }, func() error {
		try++
		return b.writeOnce(ctx, try > 3, f)
	})
	return b.fault(doing, err)
}

// writeOnce tries once; alone keeps other writers out, so that it comes to an
// end under any crowd.
func (b *Book) writeOnce(ctx context.Context, alone bool, f func(pgx.Tx) error) error {
	tx, err := b.pool.BeginTx(ctx, pgx.TxOptions{IsoLevel: pgx.Serializable, AccessMode: pgx.ReadWrite})
	if err != nil {
		return err
	}
	defer tx.Rollback(context.WithoutCancel(ctx))
	if alone {
		// First of all, before the transaction sees its state of the tables.
		if _, err := tx.Exec(ctx, "LOCK TABLE state IN SHARE ROW EXCLUSIVE MODE"); err != nil {
			return closedOr(tx, err)
		}
	}
	m := mark{n: rand.Int64()}
	if err := tx.QueryRow(ctx, "INSERT INTO marks (mark) VALUES ($1) RETURNING pg_backend_pid(), at", m.n).Scan(&m.pid, &m.at); err != nil {
		return closedOr(tx, err)
	}
	if err := f(tx); err != nil {
		return closedOr(tx, err)
	}
	if err = closedOr(tx, tx.Commit(ctx)); !lost(err) {
		if err == nil {
			b.prune(ctx)
		}
		return err
	}
	// The line broke while the server was told to keep it: only the server
	// knows whether it did.
	kept, why := b.fate(ctx, m)
	switch {
	case why != nil:
		return b.hide(fmt.Errorf("casebook %s: %w: the connection broke (%w), and the server cannot be asked: %w", b.name, engine.ErrUncertain, err, why))
	case kept:
		return nil
	}
	return err
}

// closedOr marks an error of a transaction whose connection is gone.
func closedOr(tx pgx.Tx, err error) error {
	if err == nil || lost(err) || code(err) != "" || !tx.Conn().IsClosed() ||
		errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return fmt.Errorf("%w: %w", errConnClosed, err)
}

// mark is what a write leaves behind to be known by: a number by chance, set by
// a process of the server, at a time by the server's clock.
type mark struct {
	n   int64
	pid int
	at  time.Time
}

// keepMarks is how long marks stay. Whose write broke off asks at once; only a
// computer that slept meanwhile asks late, and learns that it is too late.
const keepMarks = 24 * time.Hour

// pruneEvery is how often a program that stays looks for marks to prune. The
// first write of each looks too.
const pruneEvery = time.Hour

var errTooLate = errors.New("it was more than a day ago")

// prune takes away marks that nobody asks for any more. It is apart from the
// write, which is kept whatever comes of it, and leaves alone what another
// program is pruning.
func (b *Book) prune(ctx context.Context) {
	now := time.Now().UnixNano()
	if last := b.pruned.Load(); last != 0 && now-last < int64(pruneEvery) || !b.pruned.CompareAndSwap(b.pruned.Load(), now) {
		return
	}
	b.pool.Exec(ctx, "DELETE FROM marks WHERE mark IN (SELECT mark FROM marks WHERE at < now() - make_interval(secs => $1) LIMIT 10000 FOR UPDATE SKIP LOCKED)", keepMarks.Seconds())
}

// fate finds out what became of a transaction that left a mark and was told to
// commit: the mark is set again, which waits for the transaction and fails when
// it was kept. Its number would not do, a server that crashed may give it to
// another. One that stays open, because its server process does not know yet
// that nobody is there, is ended.
func (b *Book) fate(ctx context.Context, m mark) (kept bool, err error) {
	err = b.patiently(ctx, func(err error) bool { return lost(err) || code(err) == "55P03" }, func() error {
		tx, err := b.pool.Begin(ctx)
		if err != nil {
			return err
		}
		defer tx.Rollback(context.WithoutCancel(ctx))
		var late bool
		if _, err = tx.Exec(ctx, "SET LOCAL lock_timeout = '500ms'"); err == nil {
			err = tx.QueryRow(ctx, "INSERT INTO marks (mark) VALUES ($1) RETURNING at - $2 > make_interval(secs => $3)", m.n, m.at, keepMarks.Seconds()).Scan(&late)
		}
		switch code(err) {
		case "23505":
			kept = true
			return nil
		case "55P03":
			if err := tx.Rollback(ctx); err != nil {
				return closedOr(tx, err)
			}
			if _, err := b.pool.Exec(ctx, "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE pid = $1 AND application_name = 'slipcase' AND state <> 'idle'", m.pid); err != nil {
				return err
			}
		}
		if err == nil && late {
			return errTooLate // kept once, maybe, and pruned
		}
		return closedOr(tx, err) // the mark is not kept either
	})
	return kept, err
}
