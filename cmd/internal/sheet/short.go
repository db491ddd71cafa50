package sheet

import (
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/paper"
	"slipcase/cmd/internal/wording"
)

// What the short sheet has room for on its two pages.
const (
	shortSuspects = 5
	shortTold     = 8 // reports that something is there
	shortSteps    = 8
	shortLook     = 2 // parts to look for at a step
	shortFields   = 16
	shortCauses   = 6
	shortLine     = 240 // characters of the customer's words
)

var shortPage = template.Must(template.New("short.html").Funcs(template.FuncMap{
	"minutes": func(n answer.Num) string { return fmt.Sprintf("%.0f", float64(n)) },
	"capital": wording.Capital,
}).ParseFS(files, "short.html"))

// shortCaution is a caution, said once; steps name it by its letter.
type shortCaution struct{ Mark, Text string }

type shortStep struct {
	Title, LookFor, Marks string
	Minutes               answer.Num
}

// Short writes the case on one or two pages: what is wrong, the suspects, the
// next steps with their cautions, and fields for what is measured at them. code
// and address are as those of Write. The error is that of the writer.
func Short(to io.Writer, s paper.Sheet, code template.HTML, address string) error {
	css, err := files.ReadFile("sheet.css")
	if err != nil {
		return err
	}
	data := struct {
		paper.Sheet
		CSS       template.CSS
		Code      template.HTML
		Address   string
		Told      []string
		MoreTold  int
		Cautions  []shortCaution
		Steps     []shortStep
		MoreSteps int
		Fields    []paper.SheetMeasure
		// PressureMarks are the letters of the cautions of reading line pressure.
		PressureMarks string
		Open          []string
	}{Sheet: s, CSS: template.CSS(css), Code: code, Address: address}
	if runes := []rune(s.Words); len(runes) > shortLine {
		data.Words = string(runes[:shortLine]) + " …"
	}
	data.Told = s.Present
	if n := len(data.Told); n > shortTold {
		data.Told, data.MoreTold = data.Told[:shortTold], n-shortTold
	}
	data.Suspects = s.Suspects[:min(len(s.Suspects), shortSuspects)]
	letter := func(text string) string {
		i := slices.IndexFunc(data.Cautions, func(c shortCaution) bool { return c.Text == text })
		if i < 0 {
			i = len(data.Cautions)
			data.Cautions = append(data.Cautions, shortCaution{string(rune('A' + i)), text})
		}
		return data.Cautions[i].Mark
	}
	field := func(m paper.SheetMeasure) {
		if !slices.ContainsFunc(data.Fields, func(f paper.SheetMeasure) bool { return f.What == m.What }) {
			data.Fields = append(data.Fields, m)
		}
	}
	steps := s.Plan.Steps[:min(len(s.Plan.Steps), shortSteps)]
	for _, p := range steps {
		x := shortStep{Title: wording.Capital(p.Title), Minutes: p.Minutes}
		var marks, look []string
		for _, text := range p.Cautions {
			marks = append(marks, letter(text))
		}
		for _, l := range p.LookFor[:min(len(p.LookFor), shortLook)] {
			look = append(look, l.Part+": "+l.Mode)
		}
		x.Marks, x.LookFor = strings.Join(marks, " "), strings.Join(look, "; ")
		data.Steps = append(data.Steps, x)
		for _, m := range slices.Concat(p.Before, p.At, p.Limits) {
			if m.Limit != "" {
				field(paper.SheetMeasure{What: m.Text, Limit: m.Limit, Value: m.Value})
			}
		}
	}
	data.MoreSteps = s.Plan.More + len(s.Plan.Steps) - len(steps)
	// Line pressure is read before anything is taken apart, with its own
	// cautions; it goes first where there is room for all of it.
	if n := len(s.Pressures); n > 0 && n+len(data.Fields) <= shortFields {
		at := data.Fields
		data.Fields = nil
		for _, m := range s.Pressures {
			field(m)
		}
		for _, m := range at {
			field(m)
		}
		var marks []string
		for _, text := range s.PressureCautions {
			marks = append(marks, letter(text))
		}
		slices.Sort(marks)
		data.PressureMarks = strings.Join(marks, " ")
	}
	data.Fields = data.Fields[:min(len(data.Fields), shortFields)]
	for _, c := range s.Causes {
		if c.Settled == "" && len(data.Open) < shortCauses {
			data.Open = append(data.Open, c.Title)
		}
	}
	return shortPage.Execute(to, data)
}
