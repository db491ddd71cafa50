package sqlite

import (
	"context"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"modernc.org/sqlite"
	lib "modernc.org/sqlite/lib"

	"slipcase/engine"
	"slipcase/knowledge/casebook/internal/records"
)

// applicationID marks a SQLite file as a casebook ("slpc").
const applicationID = 0x736c7063

//go:embed migrations/*.sql
var embeddedFiles embed.FS

var embedded = func() fs.FS {
	sub, err := fs.Sub(embeddedFiles, "migrations")
	if err != nil {
		panic(err)
	}
	return sub
}()

// readMigrations gives the migrations in their order: step i brings a casebook
// from version i to i+1. Files are named 0001_what.sql, without gaps.
func readMigrations(dir fs.FS) ([]string, error) {
	names, err := fs.Glob(dir, "*.sql")
	if err != nil {
		return nil, err
	}
	var steps []string
	for i, name := range names {
		if want := fmt.Sprintf("%04d_", i+1); !strings.HasPrefix(name, want) {
			return nil, fmt.Errorf("migration %s: its name must begin with %s", name, want)
		}
		text, err := fs.ReadFile(dir, name)
		if err != nil {
			return nil, err
		}
		steps = append(steps, string(text))
	}
	return steps, nil
}

// identify reads the version of the file, 0 for one that is new and empty, and
// refuses a file that is no casebook before anything is written to it.
func (b *Book) identify(ctx context.Context) (version int, err error) {
	var app, tables int
	err = errors.Join(
		b.writer.QueryRowContext(ctx, "PRAGMA application_id").Scan(&app),
		b.writer.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version),
		b.writer.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_schema").Scan(&tables))
	var s *sqlite.Error
	switch {
	case errors.As(err, &s) && s.Code()&0xff == lib.SQLITE_NOTADB:
		return 0, fmt.Errorf("%w (or %w: it is of another kind or its first page is damaged)", b.damaged("it is not a SQLite file"), engine.ErrForeign)
	case err != nil:
		return 0, b.fault("open", err)
	case app == 0 && version == 0 && tables == 0:
		return 0, nil
	case app != applicationID:
		return 0, fmt.Errorf("casebook %s: %w: it is a SQLite file of another program (application id %#x): give the path of a casebook or of a new file",
			b.path, engine.ErrForeign, app)
	case version < 1:
		return 0, b.damaged(fmt.Sprintf("its version is %d", version))
	}
	return version, nil
}

// migrate brings the file from version to the newest, step by step. Before each
// step an existing casebook is copied while the write lock is held, so the copy
// is the state that the step starts from.
func (b *Book) migrate(ctx context.Context, version int, steps []string) error {
	for ; version < len(steps); version++ {
		if err := b.migrateOne(ctx, version, steps[version]); err != nil {
			return err
		}
	}
	return nil
}

func (b *Book) migrateOne(ctx context.Context, version int, step string) error {
	doing := fmt.Sprintf("bring it from version %d to %d", version, version+1)
	return b.write(ctx, doing, func(tx *txn) error {
		if version > 0 {
			copied, err := b.backup(ctx)
			if err != nil {
				return err
			}
			b.opt.Tell(fmt.Sprintf("casebook %s goes from version %d to %d; the copy from before is %s", b.path, version, version+1, copied))
		}
		// Of several statements, so not to be prepared.
		if _, err := tx.Tx.ExecContext(ctx, step); err != nil {
			return err
		}
		sum, err := schemaSum(ctx, tx)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "INSERT INTO about VALUES ('schema', ?) ON CONFLICT DO UPDATE SET value = excluded.value", sum); err != nil {
			return err
		}
		_, err = tx.Tx.ExecContext(ctx, fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = %d", applicationID, version+1))
		return err
	})
}

// schemaSum is the checksum of the statements that made the file. Damage there
// shows as odd errors anywhere, or as a trigger that no longer fires.
func schemaSum(ctx context.Context, q querier) (string, error) {
	made, err := texts(ctx, q, "SELECT type || ' ' || name || ' ' || coalesce(sql, '') FROM sqlite_schema ORDER BY type, name")
	return fmt.Sprintf("%x", records.Checksum(nil, made...)), err
}

// checkSchema compares the statements that made the file with their checksum.
func (b *Book) checkSchema(ctx context.Context) error {
	sum, err := schemaSum(ctx, b.writer)
	if err != nil {
		return b.fault("open", err)
	}
	said, err := texts(ctx, b.writer, "SELECT value FROM about WHERE name = 'schema'")
	if kind := faultKind(err); kind != nil && kind != engine.ErrDamaged || ctx.Err() != nil {
		return b.fault("open", err)
	}
	if err != nil || len(said) != 1 || said[0] != sum {
		return b.damaged("the statements that made its tables do not match their checksum")
	}
	return nil
}

// keepLog sets the write-ahead log, which the file remembers; a copy made as a
// backup has forgotten it.
func (b *Book) keepLog(ctx context.Context) error {
	var mode string
	if err := b.writer.QueryRowContext(ctx, "PRAGMA journal_mode = WAL").Scan(&mode); err != nil {
		return b.fault("open", err)
	}
	if mode != "wal" {
		return fmt.Errorf("casebook %s: this place cannot keep a write-ahead log (journal mode %s): keep it on a disk of this computer", b.path, mode)
	}
	return nil
}
