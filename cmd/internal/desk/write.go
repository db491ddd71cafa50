package desk

import (
	"io"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/outfile"
)

// FileWritten is a file that a face had written.
type FileWritten struct {
	File  string `json:"file"`
	Bytes int64  `json:"bytes"`
}

// WriteFile writes what a face made to a file; one that is there is kept unless
// it is to be replaced: Conflict. Fails with Unavailable where it cannot.
func (d *Desk) WriteFile(name string, text []byte, replace bool) (answer.Answer[FileWritten], error) {
	count, err := outfile.Write(name, replace, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
	if err != nil {
		return answer.Answer[FileWritten]{}, err
	}
	return answer.Answer[FileWritten]{Data: FileWritten{name, count.Bytes}}, nil
}
