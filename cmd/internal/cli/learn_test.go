package cli

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/learning"
	"slipcase/cmd/internal/table"
)

// What learn prints of an answer, at 80 columns and without color. The answer
// was kept from a run over the invented cases of script/learn.txt, most of the
// numbers that stay left out: its numbers are the business of other tests.
func TestLearnPage(t *testing.T) {
	src, err := os.ReadFile(filepath.Join("testdata", "answers", "learn.json"))
	if err != nil {
		t.Fatal(err)
	}
	var kept struct {
		Method string
		Data   learning.Learned
	}
	if err := json.Unmarshal(src, &kept); err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		file   string
		all    bool
		change func(*learning.Learned)
	}{
		{"learn.txt", false, func(*learning.Learned) {}},
		{"learn-all.txt", true, func(x *learning.Learned) { x.Changes = x.Changes[:3] }},
		{"learn-applied.txt", false, func(x *learning.Learned) {
			x.State, x.Unit, x.Changes, x.Skipped = "applied", "northfork-4", x.Changes[:1], nil
			x.Sentence = "15 confirmed cases; 1 number moved."
			x.Files = []learning.LearnFile{{File: "shop/rules/own.hcl", State: "changed"}, {File: "shop/rules/shop-learned.hcl", State: "new"}}
		}},
		{"learn-nothing.txt", false, func(x *learning.Learned) {
			x.Changes, x.HeldOut = nil, nil
			x.Sentence = "15 confirmed cases; no number would move."
		}},
	} {
		t.Run(tc.file, func(t *testing.T) {
			x := kept.Data
			tc.change(&x)
			var b strings.Builder
			p := table.NewPage(&b, fallbackWidth, false)
			if !tc.all {
				x = x.Shown()
			}
			printLearned(p, answer.Answer[learning.Learned]{Method: kept.Method, Data: x})
			if err := p.Err(); err != nil {
				t.Fatal(err)
			}
			if strings.Contains(b.String(), "\x1b") {
				t.Error("color codes where none belong")
			}
			for i, l := range strings.Split(b.String(), "\n") {
				if w := table.Width(l); w > fallbackWidth {
					t.Errorf("line %d is %d columns wide: %s", i+1, w, l)
				}
			}
			if err := golden(filepath.Join("testdata", "golden", tc.file), b.String()); err != nil {
				t.Error(err)
			}
		})
	}
}
