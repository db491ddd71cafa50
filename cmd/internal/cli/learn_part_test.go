package cli

import (
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"slipcase/cmd/internal/load"
	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/trial"
	"slipcase/internal/size"
)

// A shop in which the rings of one clutch of three are cut far more often than their
// rule says: learn, over its imported casebook, moves the rate of those rings alone,
// names them, and writes it into the shop's rules. Shop, rate and cases are invented: few
// cases tell the rings from others of their kind only where they are cut very often.
func TestLearnsOnePart(t *testing.T) {
	const part, mode = "rear_clutch_rings", "cut_ring"
	n := size.Of(40, 100, 250)
	x, u, err := load.New(t.TempDir(), false, slog.New(slog.DiscardHandler)).Unit(context.Background(), "harrow-3")
	if err != nil {
		t.Fatal(err)
	}
	own := *u
	own.Components = append([]engine.Component(nil), u.Components...)
	for i := range own.Components {
		if c := &own.Components[i]; c.Name == part {
			rate := u.Frequency[mode]
			rate.Value = size.Of(0.9, 0.36, 0.36)
			c.Frequency = map[string]engine.Number{mode: rate}
		}
	}
	m, err := model.Build(x.Knowledge, &own)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	entries, cut := 0, 0
	source := trial.NewVehicles(m)
	for i := range n {
		v, err := source.Draw(5, uint64(i))
		if err != nil {
			t.Fatal(err)
		}
		id, seq := fmt.Sprintf("26-%04d", i+1), 0
		put := func(kind string, body any) {
			seq++
			line, _ := json.Marshal(map[string]any{"kind": kind, "case": id, "seq": seq, "body": body})
			fmt.Fprintf(&b, "%s\n", line)
		}
		fmt.Fprintf(&b, `{"kind":"case","id":%q,"unit":"harrow-3","title":"drawn","at":"2026-01-02T08:00:00Z"}`+"\n", id)
		for _, r := range v.Opening() {
			put("report", map[string]any{"finding": r.Finding, "state": r.State, "by": r.By})
		}
		for i := range own.Components {
			name := own.Components[i].Name
			seen := map[string]any{"component": name, "cleared": true}
			for _, node := range m.ModesOf(name) {
				if v.On(node) {
					seen = map[string]any{"component": name, "mode": m.Nodes[node].Mode.Name}
					if name == part && m.Nodes[node].Mode.Name == mode {
						cut++
					}
				}
			}
			if len(m.ModesOf(name)) > 0 {
				put("seen", seen)
			}
		}
		put("close", map[string]any{"outcome": "fixed"})
		entries += seq
	}
	t.Logf("the rings were cut in %d of %d", cut, n)
	dir := t.TempDir()
	file := filepath.Join(dir, "cases.jsonl")
	head := fmt.Sprintf(`{"kind":"casebook","format":1,"cases":%d,"entries":%d}`+"\n", n, entries)
	if err := os.WriteFile(file, []byte(head+b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	said := func(args ...string) string {
		t.Helper()
		out, errs, code := run(t, false, map[string]string{"SLIPCASE_HOME": dir}, args...)
		if code != exitDone {
			t.Fatalf("slipcase %s: exit %d\n%s%s", strings.Join(args, " "), code, out, errs)
		}
		return out
	}
	said("import", file)
	var learned struct {
		Data struct {
			State   string
			Changes []struct {
				Path, Words string
				Old, New    float64
			}
		}
	}
	if err := json.Unmarshal([]byte(said("learn", "--unit", "harrow-3", "--apply", "--anyway", "--json")), &learned); err != nil {
		t.Fatal(err)
	}
	if learned.Data.State != "applied" {
		t.Errorf("it says that its numbers are %q", learned.Data.State)
	}
	found := false
	for _, c := range learned.Data.Changes {
		t.Logf("%s (%s): %v -> %v", c.Path, c.Words, c.Old, c.New)
		if strings.Contains(c.Path, part) {
			found = found || c.New > 3*c.Old
		} else if strings.Contains(c.Path, mode) {
			t.Errorf("%s moves too, from %v to %v", c.Path, c.Old, c.New)
		}
	}
	if !found {
		t.Fatalf("the rate of %s was not found", part)
	}
	list, err := os.ReadDir(filepath.Join(dir, "rules"))
	if err != nil {
		t.Fatal(err)
	}
	written := ""
	for _, f := range list {
		src, _ := os.ReadFile(filepath.Join(dir, "rules", f.Name()))
		written += string(src)
	}
	if !strings.Contains(written, part) {
		t.Errorf("nothing about %s was written:\n%s", part, written)
	}
	if back := said("learn", "--undo", "--json"); !strings.Contains(back, `"state": "undone"`) {
		t.Errorf("taking it back says\n%s", back)
	}
	if _, err := os.Stat(filepath.Join(dir, "rules")); !os.IsNotExist(err) {
		t.Error("the folder of rules, made for what was learned, stays")
	}
}
