package bench

import (
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

// hintWords say each hint as a page does. Those that are not here are for a
// terminal only.
var hintWords = map[answer.HintKind]string{
	answer.ListCases:         "The first page lists the cases",
	answer.BeginCasebook:     "Open a first case on the first page",
	answer.OpenCase:          "Open one on the first page",
	answer.ChooseCase:        "Choose it on the first page",
	answer.ShowCase:          "Its entries are under Log",
	answer.CaseIsClosed:      "Reopen it on its page Close, or open another case",
	answer.NameEarlier:       "Name the earlier case, whose repair did not last",
	answer.CloseEarlierFirst: "Close that one first, or name another",
	answer.DriveAndClose:     "Drive them, warm, and say how they went; or say why they were not driven",
	answer.AskDriver:         "The page Ask asks what the words mean",
	answer.NoteAndGoOn:       "Note what it does now and go on",
	answer.SayWhatItWas:      "Say on the page Plan what was found",
	answer.TickOff:           "Check those steps off too, so that plan and minutes are right",
	answer.JudgeParts:        "Mark the parts in view good or failed",
	answer.SayWhich:          "Say which of them it was",
	answer.ClearWhole:        "A component is cleared as a whole",
	answer.SayAllAgain:       "Fix it and send it again; what no rule knows can be kept as a note",
	answer.NoteSomething:     "Mark a finding, give a reading or write a note",
	answer.KeepAsText:        "Keep anything else as a note",
	answer.KeepCodeAsText:    "Keep it as a note",
	answer.UndoEntry:         "Undo entry {0} under Log",
	answer.UndoRest:          "Undo entries {0} to {1} under Log",
	answer.HaveAgain:         "Log shows what was undone",
	answer.ListSuspects:      "The page Now lists the suspects",
	answer.RescueCases:       "Ask whoever looks after this machine: what is readable can be saved at its terminal",
}

func hint(h answer.Hint) string {
	text := hintWords[h.Kind]
	for i, a := range h.Args {
		text = strings.ReplaceAll(text, "{"+string(rune('0'+i%10))+"}", a)
	}
	return text
}

func statusWords(s string) string { return wording.Status(engine.CaseStatus(s)) }
