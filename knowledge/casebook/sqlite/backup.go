package sqlite

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"

	"slipcase/knowledge/wholefile"
)

// Backups lie beside the casebook: its name, a running number and ".backup".
var backupName = regexp.MustCompile(`^\.(\d{4,9})\.backup$`)

// Backup writes a copy beside the casebook and returns its path.
func (b *Book) Backup(ctx context.Context) (string, error) {
	path, err := b.backup(ctx)
	if err != nil {
		return "", b.fault("back it up", err)
	}
	return path, nil
}

// backup copies the newest committed state. It reads only, so it may run while
// a transaction of this process holds the write lock.
func (b *Book) backup(ctx context.Context) (string, error) {
	numbers, err := b.backups()
	if err != nil {
		return "", err
	}
	next := 1
	if len(numbers) > 0 {
		next = numbers[len(numbers)-1] + 1
	}
	path := b.backupPath(next)
	// A copy has its final name only when it is whole and on the disk.
	partial := fmt.Sprintf("%s.%d.partial", path, os.Getpid())
	defer os.Remove(partial)
	db := b.connect("")
	defer db.Close()
	if _, err := db.ExecContext(ctx, "VACUUM INTO ?", partial); err != nil {
		return "", err
	}
	if what, err := unsound(ctx, partial); err != nil {
		return "", err
	} else if what != "" {
		return "", fmt.Errorf("the backup is not sound: %s", what)
	}
	if err := syncFile(partial); err != nil {
		return "", err
	}
	// Nothing is replaced, so two processes never take the same number.
	if err := wholefile.Place(partial, path); errors.Is(err, fs.ErrExist) {
		return "", fmt.Errorf("another backup was made at the same moment as %s: try again", path)
	} else if err != nil {
		return "", err
	}
	return path, syncFolder(filepath.Dir(path))
}

func (b *Book) backupPath(number int) string { return fmt.Sprintf("%s.%04d.backup", b.path, number) }

// backups lists the numbers of the backups there are, oldest first.
func (b *Book) backups() ([]int, error) {
	files, err := os.ReadDir(filepath.Dir(b.path))
	if err != nil {
		return nil, err
	}
	var numbers []int
	for _, f := range files {
		rest, ok := strings.CutPrefix(f.Name(), filepath.Base(b.path))
		if m := backupName.FindStringSubmatch(rest); ok && m != nil {
			n, err := strconv.Atoi(m[1])
			if err != nil {
				return nil, err
			}
			numbers = append(numbers, n)
		}
	}
	slices.Sort(numbers)
	return numbers, nil
}

// soundBackup is the path of the newest backup that passes SQLite's check, or "".
func (b *Book) soundBackup() (string, error) {
	numbers, err := b.backups()
	if err != nil {
		return "", err
	}
	for _, n := range slices.Backward(numbers) {
		path := b.backupPath(n)
		if what, err := unsound(context.Background(), path); err == nil && what == "" {
			return path, nil
		}
	}
	return "", nil
}

// unsound says what is wrong with a backup, "" when nothing is.
func unsound(ctx context.Context, path string) (string, error) {
	db := openSQLite(path, "mode=ro&immutable=1&_pragma=cell_size_check(1)")
	defer db.Close()
	var app int
	if err := db.QueryRowContext(ctx, "PRAGMA application_id").Scan(&app); err != nil {
		return "", err
	}
	if app != applicationID {
		return "it is not a casebook", nil
	}
	return integrity(ctx, db)
}

func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	defer f.Close()
	return f.Sync()
}

// syncFolder makes a new name last. Windows has no such call and needs none.
func syncFolder(path string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	return f.Sync()
}
