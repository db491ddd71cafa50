package engine

import (
	"context"
	"errors"
	"io"
	"strings"
	"time"
)

// Casebook keeps every case of the shop, append-only. The shape of a case is
// its opening and then its entries in order of sequence; nothing is ever
// changed or deleted. Every method either does the whole of its work or none
// of it, and may be called from several goroutines; several processes may hold
// the same casebook open at once.
//
// Errors wrap the sentinels below, so that errors.Is tells them apart.
type Casebook interface {
	// OpenCase opens a case with its first entries, in one write, and returns its
	// id. An Opening whose Key is known already returns the id of that case when
	// everything but At is the same, and ErrKeyReused when it is not; its entries
	// are then those of Append.
	OpenCase(ctx context.Context, o Opening, entries ...Entry) (id string, err error)

	// Append writes entries at the end of a case, all or none, and returns
	// their sequence numbers. When it returns nil the entries are on the disk.
	// An entry whose Key is known in this case already is not written again:
	// its old number is returned. Seq of the arguments is not read. A case
	// that is closed still takes entries, so that what another bench wrote in
	// the meantime is not lost. Errors: ErrNoCase, ErrBadEntry, ErrKeyReused.
	Append(ctx context.Context, id string, entries ...Entry) (seqs []int64, err error)

	// GoOn opens a case that goes on where another one ends, and returns its id:
	// the new case takes entries, and the old one, from, those that last gives
	// when told the new id. It is one write, all of it or nothing; last may be
	// called more than once. Keys make a retry harmless as in OpenCase and
	// Append, whose errors it has.
	GoOn(ctx context.Context, from string, o Opening, entries []Entry, last func(id string) []Entry) (id string, err error)

	// Get reads a whole case. Error: ErrNoCase.
	Get(ctx context.Context, id string) (CaseRecord, error)

	// Each reads whole cases, those of a unit or with "" all, in order of number,
	// many at once, and gives each to f with how many there are. An error of f
	// ends it and is returned as it is. Where the line to a server breaks it goes
	// on behind the last case given, so that no case is given twice.
	Each(ctx context.Context, unit string, f func(c CaseRecord, of int) error) error

	// Last is the sequence number of the newest entry of a case, 0 when it has
	// none: the cheap way to ask whether another bench has written.
	Last(ctx context.Context, id string) (int64, error)

	// List finds cases, newest number first.
	List(ctx context.Context, f CaseFilter, p CasePage) (CaseList, error)

	// Export writes cases as JSON Lines, in order of number: those named, or
	// all. The same cases always give the same bytes.
	Export(ctx context.Context, w io.Writer, ids ...string) error

	// Import reads what Export wrote, in one transaction. A case that is here
	// already, identical to the last byte, is skipped; one that differs is an
	// error, as is any other fault of the file, and then nothing is imported.
	// Name stands for the file in messages. Error: ImportError.
	Import(ctx context.Context, name string, r io.Reader) (ImportResult, error)

	// Check reads everything and compares it with its checksums and with what
	// is derived from it. Error: ErrDamaged.
	Check(ctx context.Context) error

	// Rescue writes what can be trusted of a damaged casebook as an export that
	// a new casebook takes, and says what is lost: cases, and ends of cases from
	// the first entry on that does not match its checksum.
	Rescue(ctx context.Context, w io.Writer) (RescueResult, error)

	// Backup writes a copy beside the casebook and returns its path. A casebook
	// on a server has no such place: errors.ErrUnsupported.
	Backup(ctx context.Context) (path string, err error)

	Close() error
}

// What can go wrong with a casebook. The errors that wrap these say where and
// what to do.
var (
	ErrNoCase       = errors.New("no such case")
	ErrBadEntry     = errors.New("entry refused")
	ErrKeyReused    = errors.New("the key was used before with other content")
	ErrDamaged      = errors.New("the casebook is damaged")
	ErrForeign      = errors.New("the file is not a casebook")
	ErrNewer        = errors.New("the casebook was written by a newer version")
	ErrNetworkShare = errors.New("the casebook is on a network share")
	ErrReadOnly     = errors.New("the casebook cannot be written")
	ErrFull         = errors.New("the disk is full")
	ErrBusy         = errors.New("the casebook is in use")
	ErrUnreachable  = errors.New("the casebook's server cannot be used")
	ErrUncertain    = errors.New("it is not known whether it was written")
)

// Opening is the head of a case: what was known when the vehicle came in.
type Opening struct {
	Unit      string // unit id; required
	Title     string
	Vehicle   string
	Words     string    // the complaint in the customer's own words
	RulesHash string    // Knowledge.Hash of the rules that the case is worked with
	By        string    // who opened it
	At        time.Time // information only; the casebook's clock when zero
	Key       string    // made by the client, unique in the casebook; "" for none
}

// Entry is one line of a case. Order is by Seq, which the casebook gives;
// time is information only.
type Entry struct {
	Seq  int64     // place in the case, from 1 without gaps
	By   string    // who entered it (the reporter of a finding is in the Report)
	At   time.Time // when it was entered; the casebook's clock when zero
	Key  string    // made by the client, unique in the case; "" for none
	Body Body
}

// Batch is what the keys of entries that were written together have in common:
// what stands before the last hyphen. "" when there is no key.
func (e Entry) Batch() string {
	if i := strings.LastIndexByte(e.Key, '-'); i >= 0 {
		return e.Key[:i]
	}
	return e.Key
}

// Body is what an entry says: a Report, Reading, Seen, SettledCause, StepDone,
// Note, InterviewMark, Retraction, Closing, Reopening or ComeBack, by value.
type Body interface{ EntryKind() EntryKind }

// EntryKind names the kinds of entries, as they are written in a casebook.
type EntryKind string

// The kinds of entries.
const (
	EntryReport     EntryKind = "report"
	EntryReading    EntryKind = "reading"
	EntrySeen       EntryKind = "seen"
	EntrySettled    EntryKind = "settled_cause"
	EntryStep       EntryKind = "step_done"
	EntryNote       EntryKind = "note"
	EntryInterview  EntryKind = "interview"
	EntryRetraction EntryKind = "retraction"
	EntryClose      EntryKind = "close"
	EntryReopen     EntryKind = "reopen"
	EntryComeBack   EntryKind = "come_back"
)

// EntryKinds lists them all.
var EntryKinds = []EntryKind{EntryReport, EntryReading, EntrySeen, EntrySettled, EntryStep,
	EntryNote, EntryInterview, EntryRetraction, EntryClose, EntryReopen, EntryComeBack}

// StepDone is a teardown step that was done, with what was measured at it.
type StepDone struct {
	Step     string
	Readings []Reading
	Note     string
}

// Note is free text.
type Note struct{ Text string }

// InterviewMark is a question passed over, or the question at which the
// interview stands so that it can be resumed there.
type InterviewMark struct {
	Question string // name of the check that asks it; "" with Skipped false: the interview is over
	Skipped  bool
	// Answer is the choice that was taken, several parted by spaces, or the
	// number that was given; "" where the reports say it all.
	Answer string
}

// Retraction takes an earlier entry of the same case back. A retraction can
// itself be retracted.
type Retraction struct {
	Of     int64 // Seq of the entry
	Reason string
}

// Closing ends the work on a case.
type Closing struct {
	Outcome CaseStatus    // fixed, come_back or abandoned
	Drive   []DriveResult // rows of the verification drive
	Earlier string        // come_back: id of the case whose repair came back; required there
	Note    string
}

// DriveResult is how one row (D/2) or shift (D/2-3) went on the verification drive.
type DriveResult struct {
	Place string
	OK    bool
	Note  string
}

// Reopening takes up a closed case again.
type Reopening struct{ Reason string }

// ComeBack says that the vehicle is here because an earlier repair did not
// last. From then on the verdict of that repair is in doubt: it counts again
// once this case is closed with what was found.
type ComeBack struct {
	Earlier string // id of the case whose repair came back; required
	Note    string
}

// EntryKind implements Body.
func (Report) EntryKind() EntryKind { return EntryReport }

// EntryKind implements Body.
func (Reading) EntryKind() EntryKind { return EntryReading }

// EntryKind implements Body.
func (Seen) EntryKind() EntryKind { return EntrySeen }

// EntryKind implements Body.
func (SettledCause) EntryKind() EntryKind { return EntrySettled }

// EntryKind implements Body.
func (StepDone) EntryKind() EntryKind { return EntryStep }

// EntryKind implements Body.
func (Note) EntryKind() EntryKind { return EntryNote }

// EntryKind implements Body.
func (InterviewMark) EntryKind() EntryKind { return EntryInterview }

// EntryKind implements Body.
func (Retraction) EntryKind() EntryKind { return EntryRetraction }

// EntryKind implements Body.
func (Closing) EntryKind() EntryKind { return EntryClose }

// EntryKind implements Body.
func (Reopening) EntryKind() EntryKind { return EntryReopen }

// EntryKind implements Body.
func (ComeBack) EntryKind() EntryKind { return EntryComeBack }

// CaseRecord is a case as the casebook keeps it.
type CaseRecord struct {
	ID      string // "26-0042": two digits of the year, and the casebook's running number
	Opening Opening
	Entries []Entry // by Seq: Entries[i].Seq == i+1
}

// CaseStatus is where a case stands.
type CaseStatus string

// The states of a case. All but CaseOpen are outcomes of a Closing.
const (
	CaseOpen      CaseStatus = "open"
	CaseFixed     CaseStatus = "fixed"
	CaseComeBack  CaseStatus = "come_back" // the earlier repair of the linked case did not last
	CaseAbandoned CaseStatus = "abandoned"
)

// CaseStatuses lists them all.
var CaseStatuses = []CaseStatus{CaseOpen, CaseFixed, CaseComeBack, CaseAbandoned}

// CaseFilter narrows a list; zero fields do not. All that are set must hold.
type CaseFilter struct {
	Unit string
	// Text: every word must begin a word of the title, vehicle, customer's
	// words or notes; case and accents do not matter.
	Text string
	// Finding that is reported present and in force: "slips" finds every place
	// and condition, "slips@D/3" every condition.
	Finding string
	// Culprit confirmed failed: "pump", or "pump/worn".
	Culprit string
	Status  CaseStatus
	Closed  bool // fixed, come_back or abandoned
	// Earlier: cases opened or closed as comebacks of this one.
	Earlier string
	// Since compares the wall time at which cases were opened; cases without
	// one are left out.
	Since time.Time
}

// CasePage is the part of a list to return.
type CasePage struct {
	Limit int    // 50 when 0, at most 1000
	After string // id of the last case of the page before; "" for the first page
}

// CaseList is one page of cases with the counts of the whole list.
type CaseList struct {
	Cases []CaseSummary
	Total int
	// Counts by status, in the order of CaseStatuses.
	Counts [4]int
	Next   string // After of the next page; "" when this is the last
}

// CaseSummary is one line of a list.
type CaseSummary struct {
	ID       string
	Unit     string
	Title    string
	Vehicle  string
	Status   CaseStatus
	Earlier  string   // of a comeback: the earlier case
	Culprits []string // component/mode in force, in order of sequence
	Entries  int64    // retracted ones included
	Opened   time.Time
	Last     time.Time // wall time of the newest entry; zero when there is none
}

// ImportResult says what an import did.
type ImportResult struct {
	Cases   int // imported
	Entries int // imported
	Skipped int // cases that were here already, identical
}

// RescueResult says what a rescue wrote, and what is lost.
type RescueResult struct {
	Cases   int
	Entries int
	Lost    []RescueLoss // in the order in which they were opened
}

// RescueLoss is a case that is lost, or the end of one.
type RescueLoss struct {
	ID    string // "" when it cannot be read either
	Row   int64  // how many-th case of the casebook, from 1
	Whole bool   // the whole case; otherwise its entries behind After
	After int64
	Why   string
}

// ImportError is a file that was refused whole: what is wrong, by place.
type ImportError struct{ Diagnostics []Diagnostic }

// Error is the first diagnostic, and how many more there are.
func (e *ImportError) Error() string {
	switch len(e.Diagnostics) {
	case 0:
		return "import refused"
	case 1:
		return "nothing imported: " + e.Diagnostics[0].Error()
	}
	return "nothing imported: " + e.Diagnostics[0].Error() + " (and more)"
}
