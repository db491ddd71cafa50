package bench

import (
	"bytes"
	"html/template"
	"net/http"
	"time"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/sheet"
)

// still lets a drawing or a sheet have its own styles, and run nothing.
const still = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// drawing is a picture of the unit of a case with the faults of the chart page:
// the power flow of a row, or the speeds of all.
func (s *Server) drawing(w http.ResponseWriter, r *http.Request) {
	svg, err := s.standing(r, "", func(r *http.Request) ([]byte, error) {
		v, _, err := s.head(r, "chart", "Drawing")
		if err != nil {
			return nil, err
		}
		flags, _ := switched(r)
		row := r.FormValue("row")
		svg, _, err := s.desk.Draw(r.Context(), v.Case.Unit, row, row == "", flags)
		return svg, err
	})
	if err != nil {
		s.failed(w, r, err)
		return
	}
	w.Header().Set("Content-Type", "image/svg+xml")
	w.Header().Set("Content-Security-Policy", still)
	w.Write(svg)
}

// paper is the job sheet of a case, for printing; the short one where that is
// asked for.
func (s *Server) paper(w http.ResponseWriter, r *http.Request) {
	// The sheet says when it was made: it is as old as the minute.
	b, err := s.standing(r, r.Host+" "+time.Now().Format("15:04"), func(r *http.Request) ([]byte, error) {
		ans, err := s.desk.Sheet(r.Context(), asking.CaseRef{In: r.PathValue("id")})
		if err != nil {
			return nil, err
		}
		var code template.HTML
		address := ""
		if s.gate != nil {
			address = "http://" + r.Host + to(r.PathValue("id"), "", nil) // the host is one of ours
			code = sheet.Code(address)
		}
		write := sheet.Write
		if r.FormValue("short") != "" {
			write = sheet.Short
		}
		var b bytes.Buffer
		err = write(&b, ans.Data, code, address)
		return b.Bytes(), err
	})
	if err != nil {
		s.failed(w, r, err)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Security-Policy", still)
	w.Write(b)
}
