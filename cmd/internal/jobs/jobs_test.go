package jobs

import (
	"fmt"
	"os"
	"slices"
	"sort"
	"strings"
	"testing"
	"text/tabwriter"

	"slipcase/internal/size"
)

// score is what the jobs of a run add up to.
type score struct {
	jobs, leader, three, talk, pull, sure int
	questions                             []int
}

func (s *score) median() int {
	if len(s.questions) == 0 {
		return 0
	}
	sort.Ints(s.questions)
	return s.questions[len(s.questions)/2]
}

func (s *score) String() string {
	percent := func(n int) string {
		return fmt.Sprintf("%d of %d (%.0f%%)", n, s.jobs, 100*float64(n)/float64(s.jobs))
	}
	return fmt.Sprintf("leader right %s; first three %s; leader right after the talk alone %s; pull decision right %s; questions in the median %d; a wrong part over 60%%: %d",
		percent(s.leader), percent(s.three), percent(s.talk), percent(s.pull), s.median(), s.sure)
}

// few are the jobs of an ordinary run.
var few = []string{"jb-37", "jb-38", "jb-40"}

// TestJobs plays jobs against the program and holds what was reached before.
// All of them with SLIPCASE_LONG=1, else a few that take little time.
func TestJobs(t *testing.T) {
	long := size.Long()
	d := shop(t)
	var s score
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 0, 1, ' ', 0)
	fmt.Fprintln(w, "job\tmeant\tasked\tlooks\tleader\tp\tright\tthree\ttalk\tpull\tshould")
	only := os.Getenv("SLIPCASE_JOBS") // names of jobs, to look at one more closely
	for _, j := range load(t) {
		if only != "" && !slices.Contains(strings.Split(only, ","), j.ID) || only == "" && !long && !slices.Contains(few, j.ID) {
			continue
		}
		r := play(t, d, j)
		s.jobs++
		s.questions = append(s.questions, len(r.questions))
		lead, in3, talk := false, false, false
		name, p := "none", 0.0
		if len(r.before) > 0 {
			lead, name, p = j.right(r.before[0]), r.before[0].component+"/"+r.before[0].mode, r.before[0].p
			in3 = slices.ContainsFunc(r.before[:min(3, len(r.before))], j.right)
		}
		if len(r.talk) > 0 {
			talk = j.right(r.talk[0])
		}
		pull := r.pull == (j.ShouldPull.Answer == "yes") && r.pipe == ""
		count(&s.leader, lead)
		count(&s.three, in3)
		count(&s.talk, talk)
		count(&s.pull, pull)
		count(&s.sure, !lead && p > 0.6)
		row := fmt.Sprintf("%s\t%d/%d\t%d\t%d\t%s\t%.0f\t%s\t%s\t%s\t%s\t%s\n", j.ID, r.meanings, r.meanings+r.refused, len(r.questions), len(r.looks), name, 100*p, yes(lead), yes(in3), yes(talk), yes(r.pull), j.ShouldPull.Answer)
		fmt.Fprint(w, row)
		t.Logf("%s  %s\n   asked %s\n   looked %s [%s]", row, r.sentence, strings.Join(r.questions, " "), strings.Join(r.looks, " "), strings.TrimSpace(r.ended+" "+r.pipe))
	}
	w.Flush()
	t.Logf("\n%s\n%s", b.String(), &s)
	if only == "" {
		hold(t, &s, long)
	}
}

func count(n *int, so bool) {
	if so {
		*n++
	}
}

func yes(so bool) string {
	if so {
		return "yes"
	}
	return "no"
}
