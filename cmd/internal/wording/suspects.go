package wording

import (
	"fmt"

	"slipcase/engine/diagnose"
	"slipcase/engine/model"
)

// Gist says in a few sentences what a builder would say of a case: the
// strongest complaints, the leader, whether the pan shows it, and what outside
// the transmission it could be.
func Gist(g diagnose.Gist) string {
	if g.Lead.Component == nil {
		return "The unit has no component that a rule can blame."
	}
	s := "Nothing is reported present yet; before any report: "
	if len(g.Complaint) > 0 {
		s = Capital(List(titlesOf(g.Complaint))) + ": "
	}
	s += blame(g.Lead)
	if g.Rival != nil {
		word := "or"
		if g.Both {
			word = "and"
		}
		s += fmt.Sprintf(", %s %s", word, blame(*g.Rival))
	}
	s += "."
	if len(g.Unmet) > 0 {
		s += " Not explained by that: " + List(titlesOf(g.Unmet)) + "."
	}
	if !g.Lead.Outside {
		if g.InPan {
			s += " The pan should show it."
		} else {
			s += " The pan will not show it."
		}
	}
	return s + " " + elsewhere(g)
}

func titlesOf(pieces []model.Piece) []string {
	var out []string
	for _, p := range pieces {
		out = append(out, p.Title)
	}
	return out
}

// blame is "overdrive servo (82 %; servo seal cut)".
func blame(b diagnose.Blame) string {
	return fmt.Sprintf("%s (%s; %s)", Component(b.Component), Percent(b.P), Mode(b.Mode))
}

// elsewhere says what could be outside the transmission, or inside it when
// the leader is outside.
func elsewhere(g diagnose.Gist) string {
	switch {
	case g.Lead.Outside && g.Elsewhere != nil:
		return "That is outside the transmission; inside it, the likeliest is " + blame(*g.Elsewhere) + "."
	case g.Lead.Outside:
		return "That is outside the transmission."
	case g.Elsewhere != nil:
		return "Outside the transmission, rule out " + blame(*g.Elsewhere) + "."
	case g.Cause != nil:
		return fmt.Sprintf("No part outside the transmission brings this about; of what came before it, settle %s (%s).", model.TitleOr(g.Cause.Cause.Title, g.Cause.Cause.Name), Percent(g.Cause.P))
	}
	return "Nothing outside the transmission that the rules know brings this about."
}
