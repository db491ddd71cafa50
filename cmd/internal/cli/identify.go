package cli

import (
	"bufio"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/library"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/notation"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
)

func init() { register(identifyCmd) }

func identifyCmd(a *app) *cobra.Command {
	var ref opened.Ref
	var record bool
	cmd := &cobra.Command{
		Use:   "identify [UNIT [FEATURE=WHAT...]]",
		Short: "tell the variants of a transmission apart by tag, casting, sizes",
		Long: `Says which variant of a transmission it is, by what differs between them: a tag, a casting mark, a plug, a year, the size of a yoke or a bushing; and what follows from that for chart, parts and limits. Without a UNIT it lists those that have variants.

What was seen is given as arguments, or asked for one item at a time, on a terminal and on a pipe; the next question is the one that tells most per minute. Sizes need a unit; what is there or not takes yes or no; ? means that it cannot be seen. Enter skips a question; quit ends.

Nothing is forced: answers that contradict each other are reported, and so is a transmission that fits no variant. A difference of two nominal sizes is shown as what it is, not as wear.

With --record the variant is recorded in the open case; UNIT may then be left out. A variant that is a unit of its own takes the case along: a new case of that unit continues it with every entry that the unit knows, the others are listed, and the old case is closed with a note that says so.`,
		Example: "slipcase identify northfork-4\nslipcase identify northfork-4 tag=NF4-31 year=2001\nslipcase identify northfork-4 yoke=1.600 in bushing=1.606 in\nslipcase identify --record tag=NF4-31 year=2001",
		RunE: func(cmd *cobra.Command, args []string) error {
			name := ""
			if len(args) > 0 && !strings.Contains(args[0], "=") {
				name, args = args[0], args[1:]
			}
			if name == "" && !record {
				if len(args) > 0 {
					return wrongUse("no unit is given: slipcase identify UNIT %s", strings.Join(args, " "))
				}
				ans, err := a.desk().Families(a.ctx)
				return show(a, cmd, ans, err, func(p *table.Page) { printFamilies(p, ans.Data) })
			}
			seen, err := notation.Features(args)
			if err != nil {
				return err
			}
			if name == "" {
				if name, err = a.desk().CaseUnit(a.ctx, ref); err != nil {
					return err
				}
			}
			ans, err := a.desk().Identify(a.ctx, name, seen)
			if err != nil {
				return err
			}
			if !a.json {
				if seen, ans, err = a.identifyTalk(name, seen, ans); err != nil {
					return err
				}
			}
			switch {
			case !record && a.json:
				return show(a, cmd, ans, nil, nil)
			case !record:
				return nil
			case ans.Data.Settled == nil && !a.json:
				a.page().Para("Nothing was written: the variant is not settled yet.")
				return nil
			}
			rec, err := a.desk().RecordVariant(a.ctx, ref, name, seen)
			return show(a, cmd, rec, err, func(p *table.Page) { printRecorded(p, rec.Data) })
		},
	}
	cmd.ValidArgsFunction = func(_ *cobra.Command, args []string, prefix string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, noFiles
		}
		return words(a.desk().UnitWords(a.ctx), prefix), noFiles
	}
	a.jobFlags(cmd, &ref)
	cmd.Flags().BoolVar(&record, "record", false, "record the variant in the open case")
	return cmd
}

func printRecorded(p *table.Page, r casework.VariantRecorded) {
	p.Space()
	p.Para("%s", r.Words)
	if len(r.LeftOut) > 0 {
		p.Para("Left behind, because unit %s does not have it:", r.Unit)
		for _, x := range r.LeftOut {
			p.Item("  - ", "%s", x)
		}
	}
}

func printFamilies(p *table.Page, list []library.FamilyLine) {
	if len(list) == 0 {
		p.Para("No unit has variants that the rules tell apart.")
		return
	}
	for _, f := range list {
		p.Para("%s: %s", f.Name, strings.Join(f.Variants, ", "))
	}
	p.Para("Which one it is: slipcase identify %s", list[0].Name)
}

// identifyTalk asks until the variant is settled, nothing more tells, or no
// more answers come.
func (a *app) identifyTalk(name string, seen []notation.FeatureAnswer, ans answer.Answer[library.Identified]) ([]notation.FeatureAnswer, answer.Answer[library.Identified], error) {
	p := a.page()
	in := bufio.NewReader(a.in)
	passed := map[string]bool{}
	warned := false
	printIdentified(p, ans.Data)
	for {
		q := openFeature(ans.Data.Next, passed)
		if q == nil || ans.Data.Settled != nil || p.Err() != nil {
			break
		}
		p.Space()
		p.Para("%s (%s)", q.Asks, askedTerms(q))
		for _, c := range q.Cautions {
			p.Styled(c, table.Warn)
		}
		if len(q.Cautions) > 0 && !warned {
			p.Styled(service, table.Warn)
			warned = true
		}
		fmt.Fprint(a.out, q.Feature+" > ")
		line, err := in.ReadString('\n')
		line = trimLine(line)
		if err != nil && line == "" || line == "quit" {
			fmt.Fprintln(a.out)
			p.Para("Stopped here. With the answer: slipcase identify %s%s %s=WHAT", name, givenWords(seen), q.Feature)
			break
		}
		if line == "" {
			passed[q.Feature] = true
			continue
		}
		more := append(seen[:len(seen):len(seen)], notation.FeatureAnswer{Feature: q.Feature, Text: line})
		next, err := a.desk().Identify(a.ctx, name, more)
		var f *answer.Failure
		if errors.As(err, &f) && f.Code == answer.WrongUse {
			for _, m := range f.Messages {
				p.Para("%s; %s", m.Summary, m.Detail)
			}
			continue
		}
		if err != nil {
			return seen, ans, err
		}
		seen, ans = more, next
		printIdentified(p, ans.Data)
	}
	return seen, ans, p.Err()
}

func openFeature(list []library.FeatureAsked, passed map[string]bool) *library.FeatureAsked {
	for i := range list {
		if !passed[list[i].Feature] {
			return &list[i]
		}
	}
	return nil
}

func askedTerms(q *library.FeatureAsked) string {
	if q.Minutes > 0 {
		return wording.Minutes(float64(q.Minutes)) + "; " + q.How
	}
	return q.How
}

// givenWords are the answers so far, as they are typed.
func givenWords(seen []notation.FeatureAnswer) string {
	var b strings.Builder
	for _, s := range seen {
		text := s.Text
		if strings.ContainsAny(text, " *?") {
			text = "'" + strings.ReplaceAll(text, "'", "") + "'"
		}
		b.WriteString(" " + s.Feature + "=" + text)
	}
	return b.String()
}

func printIdentified(p *table.Page, d library.Identified) {
	p.Styled(d.Verdict, table.Strong)
	for _, c := range d.Conflict {
		p.StyledItem("  - ", c, table.Warn)
	}
	for _, f := range d.Fits {
		p.Item("  - ", "%s", f.Words)
	}
	if d.Settled == nil {
		return
	}
	s := d.Settled
	for _, n := range s.Notes {
		p.Item("  - ", "%s", wording.Capital(n))
	}
	if len(s.Differs) > 0 {
		p.Para("Against %s:", s.Against)
		for _, x := range s.Differs {
			p.Item("  - ", "%s", x)
		}
	} else if s.Against != "" {
		p.Para("Chart, steps and limits are those of %s.", s.Unit)
	}
	p.Para("Work it as %s: slipcase open --unit %s; for a case that is open, the same with --record", s.Unit, s.Unit)
}
