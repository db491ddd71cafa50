// Package postgres keeps cases in a PostgreSQL database, behind
// engine.Casebook, for shops that work on the same cases.
//
// Tables, checksums and what follows from a case are those of the casebook in a
// file; they lie in a schema of their own, "slipcase". Every write is one
// serializable transaction, tried again when the server finds that another one
// was in the way. When the connection breaks, the server is asked afterwards
// what became of the transaction, so that a write is never done twice and none
// that was acknowledged is lost. Pictures are in the database too.
//
// Nothing that this package returns or says contains the password.
package postgres

import (
	"context"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"net"
	"strings"
	"sync/atomic"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"slipcase/engine"
)

// schema is where the tables are; oldest the server that knows all that is asked
// of it (pg_current_snapshot: since 13).
const (
	schema = "slipcase"
	oldest = 13
)

// migrationLock is the key of the advisory lock that migrations hold ("slpc").
const migrationLock = 0x736c7063

//go:embed migrations/*.sql
var embedded embed.FS

// Options of Open. The zero value is right for a shop.
type Options struct {
	Clock     func() time.Time // stamps openings and entries without a time; time.Now when nil
	MustExist bool             // do not make the tables where there are none
	Wait      time.Duration    // how long to try against conflicts and lost connections; 10 s when 0
	Tell      func(string)     // is told why opening takes long; may be nil

	migrations []string // the embedded ones when nil
}

// Book is an open casebook.
type Book struct {
	name    string // its URL without password
	secrets []string
	opt     Options
	pool    *pgxpool.Pool
	pruned  atomic.Int64 // when marks were last pruned, in nanoseconds since 1970
}

var _ engine.Casebook = (*Book)(nil)

// Open opens the casebook in the database at a URL and makes its tables if need
// be. Errors wrap engine.ErrUnreachable, ErrForeign, ErrNewer, ErrReadOnly or
// ErrBusy; fs.ErrNotExist when with MustExist there are no tables.
func Open(ctx context.Context, url string, opt Options) (*Book, error) {
	if opt.Clock == nil {
		opt.Clock = time.Now
	}
	if opt.Wait <= 0 {
		opt.Wait = 10 * time.Second
	}
	if opt.Tell == nil {
		opt.Tell = func(string) {}
	}
	if opt.migrations == nil {
		var err error
		if opt.migrations, err = readMigrations(); err != nil {
			return nil, err
		}
	}
	b := &Book{name: Name(url), secrets: secrets(url), opt: opt}
	config, err := pgxpool.ParseConfig(url)
	if err != nil {
		// Its own words may quote the URL.
		return nil, fmt.Errorf("casebook %s: %w: the URL cannot be read; it is postgres://USER@HOST:PORT/DATABASE, signs with a meaning of their own written as %%40",
			b.name, engine.ErrUnreachable)
	}
	if p := config.ConnConfig.Password; p != "" {
		b.secrets = append(b.secrets, p)
	}
	config.ConnConfig.RuntimeParams["search_path"] = schema
	config.ConnConfig.RuntimeParams["application_name"] = "slipcase"
	if config.ConnConfig.ConnectTimeout == 0 {
		config.ConnConfig.ConnectTimeout = 5 * time.Second
	}
	// A cable that is pulled says nothing.
	config.ConnConfig.DialFunc = (&net.Dialer{
		Timeout:         config.ConnConfig.ConnectTimeout,
		KeepAliveConfig: net.KeepAliveConfig{Enable: true, Idle: 5 * time.Second, Interval: 2 * time.Second, Count: 3},
	}).DialContext
	config.MaxConns, config.MinConns = 5, 0
	config.AfterConnect = func(ctx context.Context, c *pgx.Conn) error {
		// What is acknowledged is on the disk, whatever the server is used to.
		_, err := c.Exec(ctx, "SELECT set_config('synchronous_commit', 'on', false) WHERE current_setting('synchronous_commit') = 'off'")
		return err
	}
	if b.pool, err = pgxpool.NewWithConfig(ctx, config); err != nil {
		return nil, b.fault("open", err)
	}
	if err := b.open(ctx); err != nil {
		b.Close()
		return nil, err
	}
	return b, nil
}

// open looks at the server and brings the tables to the newest form.
func (b *Book) open(ctx context.Context) error {
	var version int
	err := b.patiently(ctx, starting, func() error {
		return b.read(ctx, "open", func(tx pgx.Tx) error {
			if err := server(ctx, tx); err != nil {
				return err
			}
			var err error
			version, err = b.version(ctx, tx)
			return err
		})
	})
	if err != nil {
		return err
	}
	steps := b.opt.migrations
	switch {
	case version == len(steps):
		return nil
	case version > len(steps):
		return b.newer(version)
	case version == 0 && b.opt.MustExist:
		return fmt.Errorf("casebook %s: %w: open a first case to make its tables", b.name, fs.ErrNotExist)
	case version > 0:
		b.opt.Tell(fmt.Sprintf("casebook %s goes from version %d to %d", b.name, version, len(steps)))
	}
	return b.migrate(ctx)
}

func (b *Book) newer(version int) error {
	return fmt.Errorf("casebook %s: %w: it has version %d, this program knows %d: install the newer program, or work with another casebook",
		b.name, engine.ErrNewer, version, len(b.opt.migrations))
}

// server refuses one that cannot do what is asked of it.
func server(ctx context.Context, tx pgx.Tx) error {
	var version int
	var encoding string
	err := tx.QueryRow(ctx, "SELECT current_setting('server_version_num')::int / 10000, current_setting('server_encoding')").Scan(&version, &encoding)
	switch {
	case err != nil:
		return err
	case version < oldest:
		return fmt.Errorf("%w: the server is PostgreSQL %d; %d or newer is needed", engine.ErrUnreachable, version, oldest)
	case encoding != "UTF8":
		return fmt.Errorf("%w: the database keeps text as %s, which cannot hold all of it: make one with createdb --encoding=UTF8 --template=template0", engine.ErrForeign, encoding)
	}
	return nil
}

// version of the tables, 0 for none.
func (b *Book) version(ctx context.Context, tx pgx.Tx) (int, error) {
	var tables int
	var about bool
	err := tx.QueryRow(ctx, `SELECT count(*), coalesce(bool_or(tablename = 'about'), false) FROM pg_tables WHERE schemaname = $1`, schema).Scan(&tables, &about)
	if err != nil || tables == 0 {
		return 0, err
	}
	version := 0
	if about {
		err = tx.QueryRow(ctx, "SELECT value::int FROM about WHERE name = 'version'").Scan(&version)
	}
	if err != nil || version < 1 {
		if lost(err) {
			return 0, err
		}
		return 0, fmt.Errorf("%w: its schema %q holds tables of something else", engine.ErrForeign, schema)
	}
	return version, nil
}

// migrate brings the tables to the newest form in one transaction, under one
// lock: who comes second finds it done.
func (b *Book) migrate(ctx context.Context) error {
	return b.patiently(ctx, lost, func() error {
		tx, err := b.pool.BeginTx(ctx, pgx.TxOptions{IsoLevel: pgx.ReadCommitted, AccessMode: pgx.ReadWrite})
		if err != nil {
			return b.fault("open", err)
		}
		defer tx.Rollback(context.WithoutCancel(ctx))
		if _, err := tx.Exec(ctx, "SELECT pg_advisory_xact_lock($1)", int64(migrationLock)); err != nil {
			return b.fault("open", err)
		}
		version, err := b.version(ctx, tx)
		if err != nil {
			return b.fault("open", err)
		}
		if version > len(b.opt.migrations) {
			return b.newer(version)
		}
		const about = "CREATE TABLE IF NOT EXISTS about (name text PRIMARY KEY, value text NOT NULL)"
		made := []string{"CREATE SCHEMA IF NOT EXISTS " + schema, about}
		if version > 0 {
			made = nil
		}
		for _, step := range append(made, b.opt.migrations[version:]...) {
			// Without arguments several statements may go at once.
			if _, err := tx.Exec(ctx, step); err != nil {
				return b.fault("make its tables", err)
			}
		}
		_, err = tx.Exec(ctx, "INSERT INTO about VALUES ('version', $1) ON CONFLICT (name) DO UPDATE SET value = excluded.value", fmt.Sprint(len(b.opt.migrations)))
		if err == nil {
			err = tx.Commit(ctx)
		}
		return b.fault("make its tables", err)
	})
}

// readMigrations gives the migrations in their order: step i brings the tables
// from version i to i+1.
func readMigrations() ([]string, error) {
	names, err := fs.Glob(embedded, "migrations/*.sql")
	if err != nil {
		return nil, err
	}
	var steps []string
	for i, name := range names {
		if want := fmt.Sprintf("migrations/%04d_", i+1); !strings.HasPrefix(name, want) {
			return nil, fmt.Errorf("migration %s: its name must begin with %s", name, want)
		}
		text, err := embedded.ReadFile(name)
		if err != nil {
			return nil, err
		}
		steps = append(steps, string(text))
	}
	return steps, nil
}

// Path is the URL of the casebook, without password and options.
func (b *Book) Path() string { return b.name }

// Recovered is false: a server recovers by itself.
func (b *Book) Recovered() bool { return false }

// Backup fails: a server has no place beside it. Its own backups, or an export,
// do that.
func (b *Book) Backup(context.Context) (string, error) {
	return "", fmt.Errorf("casebook %s: %w: a server's database is backed up by the server (pg_dump) or by an export", b.name, errors.ErrUnsupported)
}

// Close ends all work.
func (b *Book) Close() error {
	if b.pool != nil {
		b.pool.Close()
		b.pool = nil
	}
	return nil
}

// Print changes whenever anything in the database may have.
func (b *Book) Print(ctx context.Context) (print string, err error) {
	err = b.read(ctx, "look at it", func(tx pgx.Tx) error {
		return tx.QueryRow(ctx, "SELECT pg_current_snapshot()::text").Scan(&print)
	})
	return print, err
}
