package edit

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"

	"slipcase/engine"
	"slipcase/engine/refine/rulepath"
	"slipcase/knowledge/wholefile"
	"slipcase/rules"
)

// Journal is the file of the shop's folder that remembers the last apply, to
// undo it, and what learned numbers were before. The rule loader does not read
// it.
const Journal = ".slipcase-learned.json"

// Origin is what a number was before anything was learned. Learning starts
// from it again each time, so that no case counts twice.
type Origin struct {
	Value float64          `json:"value"`
	Kind  engine.BasisKind `json:"basis"`
	Cases float64          `json:"cases,omitempty"`
}

// origin is an Origin with the value that was learned: it holds as long as the
// rules still have that value.
type origin struct {
	Origin
	Learned float64 `json:"learned"`
}

// journal is the content of the file.
type journal struct {
	Version int               `json:"version"`
	Origins map[string]origin `json:"origins,omitempty"` // by the String of a number's path
	Last    *lastApply        `json:"last,omitempty"`
}

// lastApply is what an undo needs.
type lastApply struct {
	Origins map[string]origin `json:"origins,omitempty"` // those before
	Files   []fileChange      `json:"files"`
	Made    []string          `json:"made,omitempty"` // folders that were not there, "." for the shop's own
}

type fileChange struct {
	Path   string `json:"path"`
	New    bool   `json:"new,omitempty"`
	Before []byte `json:"before,omitempty"`
	After  string `json:"after"` // SHA-256, in hex
}

const journalVersion = 1

// ErrNothingToUndo says that there is no apply to take back.
var ErrNothingToUndo = errors.New("nothing was applied that could be undone")

// Apply makes the changes in the shop's folder, which lies over lower, and
// returns the files changed. It makes the folder where there is none. Either
// all files are changed or, after an error, Undo takes back what was.
func Apply(shop string, lower []rules.Layer, changes []Change) ([]File, error) {
	if len(changes) == 0 {
		return nil, errors.New("edit: no change to apply")
	}
	unlock, made, err := lock(shop)
	if err != nil {
		return nil, err
	}
	defer unlock()
	files, err := Plan(shop, lower, changes)
	if err != nil {
		return nil, err
	}
	j, err := readJournal(shop)
	if err != nil {
		return nil, err
	}
	k, err := load(shop, lower)
	if err != nil {
		return nil, err
	}
	last := &lastApply{Origins: j.Origins}
	next := valid(j.Origins, k)
	old := map[string]engine.Number{}
	rulepath.Walk(k, func(p rulepath.Path, n *engine.Number) { old[p.String()] = *n })
	for _, c := range changes {
		name := c.Path.String()
		o, ok := next[name]
		if n := old[name]; !ok && n.Basis != nil {
			o.Origin = Origin{Value: n.Value, Kind: n.Basis.Kind, Cases: n.Basis.Cases}
		} else if !ok {
			o.Origin = c.Was
		}
		o.Learned, _ = strconv.ParseFloat(c.Text, 64)
		next[name] = o
	}
	for _, f := range files {
		last.Files = append(last.Files, fileChange{Path: f.Path, New: f.Before == nil, Before: f.Before, After: sum(f.After)})
	}
	last.Made = missing(shop, files)
	if made {
		last.Made = append([]string{"."}, last.Made...)
	}
	// The journal first: with it, whatever happens next can be taken back.
	if err := writeJournal(shop, journal{Version: journalVersion, Origins: next, Last: last}); err != nil {
		return nil, err
	}
	for _, f := range files {
		// Nobody may have written to the file since it was read.
		now, err := os.ReadFile(filepath.Join(shop, filepath.FromSlash(f.Path)))
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return nil, err
		}
		if sum(now) != sum(f.Before) {
			return nil, fmt.Errorf("edit: %s was changed while the edit was made; undo what was applied and try again", f.Path)
		}
		if err := wholefile.Bytes(filepath.Join(shop, filepath.FromSlash(f.Path)), wholefile.InPlace, f.After); err != nil {
			return nil, err
		}
	}
	return files, nil
}

// Undo takes the last apply back, byte for byte, and returns the paths of the
// files restored. It refuses when one of them has changed since.
func Undo(shop string) ([]string, error) {
	if _, err := os.Stat(filepath.Join(shop, Journal)); errors.Is(err, fs.ErrNotExist) {
		return nil, ErrNothingToUndo
	}
	unlock, _, err := lock(shop)
	if err != nil {
		return nil, err
	}
	defer unlock()
	j, err := readJournal(shop)
	if err != nil {
		return nil, err
	}
	if j.Last == nil {
		return nil, ErrNothingToUndo
	}
	var todo []fileChange
	for _, f := range j.Last.Files {
		if !filepath.IsLocal(filepath.FromSlash(f.Path)) {
			return nil, fmt.Errorf("edit: the journal names %q, which is not in the shop's folder", f.Path)
		}
		now, err := os.ReadFile(filepath.Join(shop, filepath.FromSlash(f.Path)))
		switch {
		case errors.Is(err, fs.ErrNotExist) && f.New:
			continue // never written, or gone already
		case err != nil:
			return nil, err
		case sum(now) == f.After:
			todo = append(todo, f)
		case !f.New && sum(now) == sum(f.Before):
			continue // the apply did not come so far
		default:
			return nil, fmt.Errorf("edit: %s has changed since; undo would lose that. Change the numbers back by hand", f.Path)
		}
	}
	var out []string
	for _, f := range todo {
		p := filepath.Join(shop, filepath.FromSlash(f.Path))
		if f.New {
			err = os.Remove(p)
		} else {
			err = wholefile.Bytes(p, wholefile.InPlace, f.Before)
		}
		if err != nil {
			return out, err
		}
		out = append(out, f.Path)
	}
	if err := writeJournal(shop, journal{Version: journalVersion, Origins: j.Last.Origins}); err != nil {
		return out, err
	}
	return out, unmake(shop, j.Last)
}

// missing lists the folders that writing the files will make.
func missing(shop string, files []File) []string {
	var out []string
	for _, f := range append([]File{{Path: Journal}}, files...) {
		dir := path.Dir(f.Path)
		if _, err := os.Stat(filepath.Join(shop, filepath.FromSlash(dir))); errors.Is(err, fs.ErrNotExist) && !slices.Contains(out, dir) {
			out = append(out, dir)
		}
	}
	return out
}

// unmake removes the folders that an apply had to make, where nothing else came
// into them since.
func unmake(shop string, last *lastApply) error {
	for _, dir := range slices.Backward(last.Made) {
		if !filepath.IsLocal(filepath.FromSlash(dir)) {
			return fmt.Errorf("edit: the journal names %q, which is not in the shop's folder", dir)
		}
		dir = filepath.Join(shop, filepath.FromSlash(dir))
		entries, err := os.ReadDir(dir)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return err
		}
		// The lock file is nothing but a lock; this program holds it.
		if i := slices.IndexFunc(entries, func(e fs.DirEntry) bool { return e.Name() == lockFile }); i >= 0 && onlyOurs(entries, last) {
			if err := os.Remove(filepath.Join(dir, lockFile)); err != nil {
				return err
			}
			entries = slices.Delete(entries, i, i+1)
		}
		// A journal that remembers nothing is nothing.
		if len(entries) == 1 && entries[0].Name() == Journal && len(last.Origins) == 0 {
			if err := os.Remove(filepath.Join(dir, Journal)); err != nil {
				return err
			}
			entries = nil
		}
		if len(entries) > 0 {
			continue
		}
		if err := os.Remove(dir); err != nil {
			return err
		}
	}
	return nil
}

// Origins are what the learned numbers of the knowledge were before, by the
// String of their path; a number that was changed by hand since has none.
func Origins(shop string, k *engine.Knowledge) (map[string]Origin, error) {
	j, err := readJournal(shop)
	if err != nil {
		return nil, err
	}
	out := map[string]Origin{}
	for name, o := range valid(j.Origins, k) {
		out[name] = o.Origin
	}
	return out, nil
}

func valid(origins map[string]origin, k *engine.Knowledge) map[string]origin {
	out := map[string]origin{}
	rulepath.Walk(k, func(p rulepath.Path, n *engine.Number) {
		if o, ok := origins[p.String()]; ok && o.Learned == n.Value && n.Basis != nil && n.Basis.Kind == engine.ShopRecord {
			out[p.String()] = o
		}
	})
	return out
}

func load(shop string, lower []rules.Layer) (*engine.Knowledge, error) {
	folder, err := rules.OpenFolder(shop)
	if err != nil {
		return nil, err
	}
	layers := append(slices.Clone(lower), rules.Layer{Name: "shop", FS: folder, Root: filepath.ToSlash(shop)})
	k, diags := rules.Load(rules.Options{Layers: layers})
	for _, d := range diags {
		if d.Severity == engine.Error {
			return nil, d
		}
	}
	return k, nil
}

func readJournal(shop string) (journal, error) {
	src, err := os.ReadFile(filepath.Join(shop, Journal))
	if errors.Is(err, fs.ErrNotExist) {
		return journal{Version: journalVersion}, nil
	}
	if err != nil {
		return journal{}, err
	}
	var j journal
	if err := json.Unmarshal(src, &j); err != nil {
		return j, fmt.Errorf("edit: %s cannot be read: %w; without it nothing can be undone. Delete it to go on", filepath.Join(shop, Journal), err)
	}
	if j.Version != journalVersion {
		return j, fmt.Errorf("edit: %s is of version %d; this program reads %d", filepath.Join(shop, Journal), j.Version, journalVersion)
	}
	return j, nil
}

func writeJournal(shop string, j journal) error {
	src, err := json.MarshalIndent(j, "", " ")
	if err != nil {
		return err
	}
	return wholefile.Bytes(filepath.Join(shop, Journal), wholefile.InPlace, append(src, '\n'))
}

func sum(b []byte) string {
	h := sha256.Sum256(b)
	return hex.EncodeToString(h[:])
}
