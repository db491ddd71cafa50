// Package sheet writes a case as one HTML page that needs nothing else: for
// paper in black and white, A4 or Letter, and for a screen without a network.
// What stands on it comes from the desk; the page works nothing out.
package sheet

import (
	"embed"
	"fmt"
	"html/template"
	"io"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/paper"
	"slipcase/cmd/internal/wording"
)

//go:embed sheet.html short.html sheet.css
var files embed.FS

var page = template.Must(template.New("sheet.html").Funcs(template.FuncMap{
	"percent": func(n answer.Num) string { return wording.Percent(float64(n)) },
	"minutes": func(n answer.Num) string { return fmt.Sprintf("%.0f", float64(n)) },
	"capital": wording.Capital,
	"list":    func(s []string) string { return strings.Join(s, ", ") },
	"next":    func(i int) int { return i + 1 },
}).ParseFS(files, "sheet.html"))

// Write writes the page. code is a picture, as SVG, that takes a tablet back to
// the case, with the address that it holds; both "" for a sheet without. The
// error is that of the writer.
func Write(to io.Writer, s paper.Sheet, code template.HTML, address string) error {
	css, err := files.ReadFile("sheet.css")
	if err != nil {
		return err
	}
	type picture struct {
		Title, Why string
		SVG        template.HTML
	}
	data := struct {
		paper.Sheet
		CSS      template.CSS
		Code     template.HTML
		Address  string
		Pictures []picture
	}{Sheet: s, CSS: template.CSS(css), Code: code, Address: address}
	for _, d := range s.Drawings {
		// The drawing package escapes whatever a unit file holds.
		data.Pictures = append(data.Pictures, picture{d.Title, d.Why, template.HTML(d.SVG)})
	}
	return page.Execute(to, data)
}
