package bench

import (
	"fmt"
	"io"
	"net/http"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/opened"
)

type photoData struct {
	Parts  []casework.PartWays
	Photos []casework.Photo
	Part   string
}

// photos are the pictures of a case, and a form to take one.
func (s *Server) photos(r *http.Request) (view, error) {
	v, _, err := s.head(r, "photos", "Photos")
	if err != nil {
		return v, err
	}
	d := photoData{Part: r.FormValue("part")}
	if d.Parts, err = known(s, r, &v, "parts", list(s.desk.Parts)); err != nil {
		return v, err
	}
	d.Photos, err = known(s, r, &v, fmt.Sprint("photos ", v.Last), list(s.desk.Photos)) // each is a note
	v.Data = d
	return v, err
}

// addPhoto keeps a picture.
func (s *Server) addPhoto(r *http.Request, ref opened.Ref) (string, error) {
	f, _, err := r.FormFile("photo")
	if err != nil {
		return "", answer.Fail(answer.WrongUse, "no picture was sent", "")
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, mostPhoto+1))
	if err != nil || len(data) > mostPhoto {
		return "", answer.Fail(answer.WrongUse, "the picture is too large", "12 MB at most")
	}
	_, err = s.desk.AddPhoto(r.Context(), ref, r.PostFormValue("part"), data)
	return "parts", err
}

// photo serves a picture, and nothing that a browser would run.
func (s *Server) photo(w http.ResponseWriter, r *http.Request) {
	data, kind, err := s.desk.ReadPhoto(r.Context(), r.PathValue("id"), r.PathValue("name"))
	if err != nil {
		s.failed(w, r, err)
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Security-Policy", "default-src 'none'; sandbox")
	w.Header().Set("Cache-Control", "private, max-age=31536000, immutable")
	w.Write(data)
}
