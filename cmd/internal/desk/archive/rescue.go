package archive

import (
	"context"
	"io"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/books"
	"slipcase/cmd/internal/desk/outfile"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

// CheckedBook says what a check of the whole casebook read.
type CheckedBook struct {
	Book  string `json:"book"`
	Cases int    `json:"cases"`
}

// CheckBook reads all of the casebook: every row against its checksum, every
// index against its table, everything derived against what it follows from.
// Fails with Damaged, NotFound or Unavailable as the casebook is.
func (d *Archive) CheckBook(ctx context.Context) (answer.Answer[CheckedBook], error) {
	// It is checked here, once, and not when it is opened.
	book, err := d.keeper.Books.OpenWith(ctx, books.Options{MustExist: true, Damaged: true})
	if err != nil {
		return answer.Answer[CheckedBook]{}, err
	}
	defer book.Close()
	if err := book.Check(ctx); err != nil {
		return answer.Answer[CheckedBook]{}, d.keeper.Books.Failure(err)
	}
	list, err := book.List(ctx, engine.CaseFilter{}, engine.CasePage{Limit: 1})
	if err != nil {
		return answer.Answer[CheckedBook]{}, d.keeper.Books.Failure(err)
	}
	return answer.Answer[CheckedBook]{Data: CheckedBook{Book: book.Path(), Cases: list.Total}}, nil
}

// Rescued says what could be saved of a damaged casebook, and what is lost.
type Rescued struct {
	File    string     `json:"file"`
	Book    string     `json:"book"` // stays as it is
	Cases   int        `json:"cases"`
	Entries int        `json:"entries"`
	Lost    []LostCase `json:"lost"`
}

// LostCase is a case that could not be saved, or not to its end.
type LostCase struct {
	ID    string `json:"id"`    // "" when it cannot be read either
	Row   int64  `json:"row"`   // how many-th case of the casebook, from 1
	Whole bool   `json:"whole"` // nothing of it was saved
	After int64  `json:"after"` // the last entry that was saved
	Why   string `json:"why"`
}

// RescueBook writes what is readable of a casebook to a file that a new
// casebook imports. The casebook is not changed. Fails with Conflict for a file that
// is there and is not to be replaced, Unavailable where it cannot be written, else as
// the casebook does.
func (d *Archive) RescueBook(ctx context.Context, name string, replace bool) (answer.Answer[Rescued], error) {
	book, err := d.keeper.Books.OpenWith(ctx, books.Options{MustExist: true, Damaged: true})
	if err != nil {
		return answer.Answer[Rescued]{}, err
	}
	defer book.Close()
	var res engine.RescueResult
	_, err = outfile.Write(name, replace, func(w io.Writer) error {
		res, err = book.Rescue(ctx, w)
		return d.keeper.Books.Failure(err)
	})
	if err != nil {
		return answer.Answer[Rescued]{}, err
	}
	out := Rescued{File: name, Book: book.Path(), Cases: res.Cases, Entries: res.Entries, Lost: []LostCase{}}
	for _, l := range res.Lost {
		out.Lost = append(out.Lost, LostCase{ID: l.ID, Row: l.Row, Whole: l.Whole, After: l.After, Why: l.Why})
	}
	ans := answer.Answer[Rescued]{Data: out}
	if len(out.Lost) > 0 {
		ans.Warnings = append(ans.Warnings, fault.Warning(wording.CasesLost(len(out.Lost)), answer.Do(answer.ImportRescued, name, book.Path())))
	}
	return ans, nil
}
