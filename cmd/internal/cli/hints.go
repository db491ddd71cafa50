package cli

import (
	"fmt"
	"strings"

	"slipcase/cmd/internal/answer"
)

// hintWords say each hint with the commands and flags of this face. {0}, {1}
// and so on are its arguments, {*} all of them with a space between.
var hintWords = map[answer.HintKind]string{
	answer.ListUnits:         "slipcase units lists them",
	answer.ListDemos:         "slipcase demos lists them",
	answer.AskDriver:         "slipcase interview asks what the words mean",
	answer.ListCases:         "slipcase cases lists them",
	answer.ListSuspects:      "slipcase suspects lists them; shell completion knows them too",
	answer.BeginCasebook:     "slipcase open --unit UNIT --title TEXT begins it with a first case",
	answer.AnotherPlace:      "--book names another casebook (a file, or postgres://USER@HOST/DATABASE), SLIPCASE_HOME another data folder",
	answer.NoCasebookNeeded:  "--case FILE and --demo NAME need none",
	answer.CarryCases:        "SLIPCASE_HOME moves the data folder, --book FILE names another casebook; slipcase export and import carry cases across",
	answer.NameCasebook:      "name the right file with --book",
	answer.OpenCase:          "slipcase open --unit UNIT --title TEXT opens one; slipcase cases lists those there are",
	answer.ChooseCase:        "name it with --in ID, or make it current with slipcase open ID; slipcase cases --open lists them",
	answer.NameCase:          "name it with --in {0}",
	answer.WindowCase:        "SLIPCASE_CASE names it; commands in this window work on it until that is changed",
	answer.ShowCase:          "slipcase cases show {0} shows its entries",
	answer.CaseIsClosed:      "slipcase open {0} reopens it; slipcase open --unit UNIT opens a new one; --in ID names another",
	answer.ExportSaves:       "slipcase export saves it as it is",
	answer.NameEarlier:       "--of names the earlier case, whose repair did not last",
	answer.CloseEarlierFirst: "close that one first, or name another with --of",
	answer.NoteAndGoOn:       "note what it does now, with slipcase note FINDING --by road_test, and go on",
	answer.SayWhatItWas:      "say what it was with slipcase undo and slipcase found COMPONENT/MODE",
	answer.ShopIsFolder:      "--shop takes the folder that holds the shop's rule files",
	answer.NameShop:          "give --shop the folder that holds the shop's rule files, or leave it out",
	answer.ShopPermissions:   "check its permissions, or give another with --shop",
	answer.TickOff:           "check them off too, so that plan and minutes are right: slipcase done {*}",
	answer.LookFirst:         "slipcase next says how to do each, with its cautions; to go on without: slipcase done {*} --anyway",
	answer.JudgeParts:        "mark them with slipcase found or slipcase clear",
	answer.ClearWhole:        "a component is cleared as a whole: slipcase clear {0}",
	answer.ReplaceFile:       "name another file, or use --replace",
	answer.UndoLearned:       "either no rule has changed, or slipcase learn --undo undoes the change",
	answer.UndoLearnedAgain:  "fix that and repeat slipcase learn --undo",
	answer.ApplyLearned:      "slipcase learn --apply writes what the cases say",
	answer.ApplyWorse:        "wait for more cases; to write them anyway: slipcase learn --apply --anyway",
	answer.SayAllAgain:       "fix it and repeat the command; what no rule knows can be kept with --text",
	answer.NoteSomething:     "name findings, readings or trouble codes, or give --text",
	answer.KeepAsText:        "keep anything else with --text",
	answer.KeepCodeAsText:    "keep it as text: slipcase note --text \"{0}\"",
	answer.UndoEntry:         "slipcase undo {0} restores it",
	answer.UndoRest:          "slipcase undo {0}-{1} undoes what is left of them",
	answer.RescueCases:       "slipcase cases check reads all of it; slipcase cases rescue FILE writes what is readable",
	answer.ImportRescued:     "move {1} and its -wal away (keep them), then: slipcase import {0}",
	answer.HaveAgain:         "to restore it: slipcase undo {*}",
}

// hint says one hint.
func hint(h answer.Hint) string {
	switch h.Kind {
	case answer.DriveAndClose:
		return fmt.Sprintf("drive them, warm, and close with --drove %s=good; or --undriven REASON; case %s stays open", strings.Join(h.Args[1:], ","), h.Args[0])
	case answer.SayWhich:
		how := map[string]string{"cause": "slipcase settle CAUSE yes or no", "part": "of a part, slipcase found or clear"}
		var out []string
		for _, a := range h.Args {
			out = append(out, how[a])
		}
		return "say which with " + strings.Join(out, "; ")
	case answer.NameExport:
		text := "name a file that slipcase export has written"
		if len(h.Args) > 0 {
			text += ", or - for standard input"
		}
		return text
	}
	text := strings.ReplaceAll(hintWords[h.Kind], "{*}", strings.Join(h.Args, " "))
	for i, a := range h.Args {
		text = strings.ReplaceAll(text, fmt.Sprintf("{%d}", i), a)
	}
	return text
}

func hints(list []answer.Hint) []string {
	var out []string
	for _, h := range list {
		out = append(out, hint(h))
	}
	return out
}

// worded are messages whose hints stand in their detail as this face says them.
func worded(list []answer.Message) []answer.Message {
	out := make([]answer.Message, len(list))
	for i, m := range list {
		parts := hints(m.Hints)
		if m.Detail != "" {
			parts = append([]string{m.Detail}, parts...)
		}
		m.Detail = strings.Join(parts, "; ")
		out[i] = m
	}
	return out
}
