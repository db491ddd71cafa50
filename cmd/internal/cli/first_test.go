package cli

import (
	"context"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/table"
)

// What limits an answer stands above it, on the page and in JSON; other
// warnings stay on standard error.
func TestLimitsStandFirst(t *testing.T) {
	var out, errs strings.Builder
	a := &app{ctx: context.Background(), out: &out, err: &errs, getenv: func(string) string { return "" }, width: 80}
	limit := answer.Warning("not every report could be taken into account", "Left out: slips in D/4.")
	limit.First = true
	ans := answer.Answer[int]{Data: 7, Warnings: []answer.Message{answer.Warning("the rules have changed", ""), limit}}
	print := func(p *table.Page) { p.Para("The ranking.") }
	if err := show(a, &cobra.Command{Use: "suspects"}, ans, nil, print); err != nil {
		t.Fatal(err)
	}
	note, ranking := strings.Index(out.String(), "NOTE: not every report"), strings.Index(out.String(), "The ranking.")
	if note < 0 || ranking < note {
		t.Errorf("the page:\n%s", out.String())
	}
	if !strings.Contains(errs.String(), "rules have changed") || strings.Contains(errs.String(), "not every report") {
		t.Errorf("standard error:\n%s", errs.String())
	}
	out.Reset()
	a.json = true
	root := &cobra.Command{Use: "slipcase"}
	cmd := &cobra.Command{Use: "suspects"}
	root.AddCommand(cmd)
	if err := show(a, cmd, ans, nil, print); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(out.String(), `"first": true`) {
		t.Errorf("JSON:\n%s", out.String())
	}
}
