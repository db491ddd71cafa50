package postgres

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"

	"github.com/jackc/pgx/v5"

	"slipcase/knowledge/casebook/internal/records"
)

// PutPhoto keeps a picture of a case under a name. One that is there already is
// left as it is: names are made anew for every picture. Error: engine.ErrNoCase.
func (b *Book) PutPhoto(ctx context.Context, id, name string, data []byte) error {
	return b.write(ctx, "keep a picture of case "+id, func(tx pgx.Tx) error {
		var row int64
		err := tx.QueryRow(ctx, `SELECT "row" FROM cases WHERE id = $1`, id).Scan(&row)
		if errors.Is(err, pgx.ErrNoRows) {
			return records.NoCase(id)
		}
		if err != nil {
			return err
		}
		_, err = tx.Exec(ctx, `INSERT INTO photos ("case", name, data, sum) VALUES ($1, $2, $3, $4) ON CONFLICT DO NOTHING`,
			row, name, data, records.Checksum(nil, id, name, string(data)))
		return err
	})
}

// Photos are the names of the pictures of a case, sorted.
func (b *Book) Photos(ctx context.Context, id string) (names []string, err error) {
	err = b.readAgain(ctx, "list the pictures of case "+id, func(tx pgx.Tx) error {
		rows, err := tx.Query(ctx, `SELECT p.name FROM photos p JOIN cases c ON c."row" = p."case" WHERE c.id = $1 ORDER BY p.name`, id)
		if err != nil {
			return err
		}
		names, err = pgx.CollectRows(rows, pgx.RowTo[string])
		return err
	})
	return names, err
}

// PhotoCases are the ids of the cases that have pictures, sorted.
func (b *Book) PhotoCases(ctx context.Context) (ids []string, err error) {
	err = b.readAgain(ctx, "list the pictures", func(tx pgx.Tx) error {
		rows, err := tx.Query(ctx, `SELECT id FROM cases WHERE "row" IN (SELECT "case" FROM photos) ORDER BY id`)
		if err != nil {
			return err
		}
		ids, err = pgx.CollectRows(rows, pgx.RowTo[string])
		return err
	})
	return ids, err
}

// Photo reads a picture of a case. Errors: fs.ErrNotExist, engine.ErrDamaged.
func (b *Book) Photo(ctx context.Context, id, name string) (data []byte, err error) {
	err = b.readAgain(ctx, "read a picture of case "+id, func(tx pgx.Tx) error {
		var sum []byte
		err := tx.QueryRow(ctx, `SELECT p.data, p.sum FROM photos p JOIN cases c ON c."row" = p."case" WHERE c.id = $1 AND p.name = $2`, id, name).Scan(&data, &sum)
		switch {
		case errors.Is(err, pgx.ErrNoRows):
			return fmt.Errorf("picture %s of case %s: %w", name, id, fs.ErrNotExist)
		case err != nil:
			return err
		case !bytes.Equal(sum, records.Checksum(nil, id, name, string(data))):
			return b.damaged(fmt.Sprintf("picture %s of case %s does not match its checksum", name, id))
		}
		return nil
	})
	return data, err
}

// checkPhotos reads every picture, one after the other.
func (b *Book) checkPhotos(ctx context.Context, tx pgx.Tx) error {
	last, lastName := int64(0), ""
	for {
		var id, name string
		var data, sum []byte
		err := tx.QueryRow(ctx, `SELECT p."case", p.name, p.data, p.sum, c.id FROM photos p JOIN cases c ON c."row" = p."case"
			WHERE (p."case", p.name) > ($1, $2) ORDER BY p."case", p.name LIMIT 1`, last, lastName).Scan(&last, &name, &data, &sum, &id)
		if errors.Is(err, pgx.ErrNoRows) {
			return nil
		}
		if err != nil {
			return err
		}
		if !bytes.Equal(sum, records.Checksum(nil, id, name, string(data))) {
			return b.damaged(fmt.Sprintf("picture %s of case %s does not match its checksum", name, id))
		}
		lastName = name
	}
}
