package postgres

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"strings"

	"github.com/jackc/pgx/v5/pgconn"

	"slipcase/engine"
)

// code is the server's code of an error (SQLSTATE), "" when it is not the
// server's.
func code(err error) string {
	var p *pgconn.PgError
	if errors.As(err, &p) {
		return p.Code
	}
	return ""
}

// conflict tells that another transaction was in the way and that the same
// again may do: not serializable, deadlock, or a number or key taken meanwhile.
func conflict(err error) bool {
	switch code(err) {
	case "40001", "40P01", "23505":
		return true
	}
	return false
}

// starting tells that the server is not ready yet.
func starting(err error) bool { return code(err) == "57P03" }

// lost tells that the connection is gone, or could not be made again.
func lost(err error) bool {
	// What may have been done is not done again.
	if err == nil || errors.Is(err, engine.ErrUncertain) || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return false
	}
	switch c := code(err); {
	case strings.HasPrefix(c, "08"), c == "57P01", c == "57P02", c == "57P03":
		return true
	case c != "":
		return false
	}
	var connect *pgconn.ConnectError
	var n net.Error
	return errors.As(err, &connect) || errors.As(err, &n) || pgconn.SafeToRetry(err) ||
		errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, net.ErrClosed) || errors.Is(err, pgconn.ErrConnClosed) || errors.Is(err, errConnClosed)
}

// errConnClosed is what a transaction says once its connection is known to be
// gone.
var errConnClosed = errors.New("the connection is closed")

// fault turns what went wrong below into an error that says what it means and
// what to do. Errors of this package pass unchanged.
func (b *Book) fault(doing string, err error) error {
	if err == nil {
		return nil
	}
	for _, known := range []error{engine.ErrNoCase, engine.ErrBadEntry, engine.ErrKeyReused, engine.ErrDamaged, engine.ErrNewer, engine.ErrUncertain} {
		if errors.Is(err, known) {
			return err
		}
	}
	var refused *engine.ImportError
	var told *hidden
	if errors.As(err, &refused) || errors.As(err, &told) {
		return err
	}
	const unwritten = "nothing was written"
	name := func(kind error, advice string) error {
		return b.hide(fmt.Errorf("casebook %s: cannot %s: %w; %s (%w)", b.name, doing, kind, advice, err))
	}
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return b.hide(fmt.Errorf("casebook %s: cannot %s: %w", b.name, doing, err))
	}
	switch c := code(err); {
	case conflict(err), c == "55P03":
		return name(engine.ErrBusy, fmt.Sprintf("%s: others were writing for over %v, try again", unwritten, b.opt.Wait))
	case c == "53100", c == "53200":
		return name(engine.ErrFull, unwritten+": the server is out of space")
	case c == "42501", c == "25006":
		return name(engine.ErrReadOnly, unwritten+": the server's administrator gives the right to write")
	case c == "28P01", strings.HasPrefix(c, "28"):
		return name(engine.ErrUnreachable, "the server refuses user or password: a password comes from the URL, from PGPASSWORD, or from the file .pgpass")
	case c == "3D000":
		return name(engine.ErrUnreachable, "there is no such database: createdb makes one")
	case c == "XX001", c == "XX002":
		return b.damaged(err.Error())
	case lost(err):
		return name(engine.ErrUnreachable, unwritten+": look whether server and network are up, and try again")
	}
	return b.hide(fmt.Errorf("casebook %s: cannot %s: %w", b.name, doing, err))
}

// damage is the error for a casebook that cannot be trusted.
type damage struct{ name, what string }

func (b *Book) damaged(what string) error { return &damage{b.name, what} }

func (d *damage) Error() string {
	return fmt.Sprintf("casebook %s: %v: %s; somebody changed the tables by hand, or the server's disk did: have the server's backup restored", d.name, engine.ErrDamaged, d.what)
}

func (d *damage) Unwrap() error { return engine.ErrDamaged }
