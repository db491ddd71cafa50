package answer

// Hint is what can be done next. It is data: each face says it in its own
// way, the command line with commands and flags, a page with links.
type Hint struct {
	Kind HintKind `json:"kind"`
	Args []string `json:"args,omitempty"` // what the kind says
}

// HintKind is the kind of a hint.
type HintKind string

// The hints, with what their Args are.
const (
	ListUnits         HintKind = "list_units"
	ListDemos         HintKind = "list_demos"
	AskDriver         HintKind = "ask_driver" // the interview
	ListCases         HintKind = "list_cases"
	ListSuspects      HintKind = "list_suspects"
	BeginCasebook     HintKind = "begin_casebook"      // open a first case
	AnotherPlace      HintKind = "another_place"       // another casebook or data folder
	NoCasebookNeeded  HintKind = "no_casebook_needed"  // what works without one
	CarryCases        HintKind = "carry_cases"         // the data folder elsewhere, cases carried across
	NameCasebook      HintKind = "name_casebook"       // another file as the casebook
	OpenCase          HintKind = "open_case"           // none is open
	ChooseCase        HintKind = "choose_case"         // several are open
	NameCase          HintKind = "name_case"           // case: name it each time
	WindowCase        HintKind = "window_case"         // case that this window works on
	ShowCase          HintKind = "show_case"           // case: its entries
	CaseIsClosed      HintKind = "case_is_closed"      // case: take it up, open another or name another
	ExportSaves       HintKind = "export_saves"        // an export keeps what this program cannot read
	NameEarlier       HintKind = "name_earlier"        // the case whose repair came back
	CloseEarlierFirst HintKind = "close_earlier_first" //
	DriveAndClose     HintKind = "drive_and_close"     // case, then the places to drive
	NoteAndGoOn       HintKind = "note_and_go_on"      // what it still does
	SayWhatItWas      HintKind = "say_what_it_was"     // a fixed case without a find
	ShopIsFolder      HintKind = "shop_is_folder"      // the shop's rules are a folder
	NameShop          HintKind = "name_shop"           // name the folder, or none
	ShopPermissions   HintKind = "shop_permissions"    //
	TickOff           HintKind = "tick_off"            // steps
	ApplyWorse        HintKind = "apply_worse"         // wait for more cases, or write them all the same
	LookFirst         HintKind = "look_first"          // steps: take the looks first, or go on without
	JudgeParts        HintKind = "judge_parts"         // say of parts in view whether they are good
	SayWhich          HintKind = "say_which"           // "cause", "part": what may be behind a find
	ClearWhole        HintKind = "clear_whole"         // component
	ReplaceFile       HintKind = "replace_file"        // a file that is there
	NameExport        HintKind = "name_export"         // a file that an export wrote, or standard input
	UndoLearned       HintKind = "undo_learned"        // take the last apply back
	UndoLearnedAgain  HintKind = "undo_learned_again"  //
	ApplyLearned      HintKind = "apply_learned"       //
	SayAllAgain       HintKind = "say_all_again"       // nothing was noted
	NoteSomething     HintKind = "note_something"      //
	KeepCodeAsText    HintKind = "keep_code_as_text"   // code
	KeepAsText        HintKind = "keep_as_text"        //
	UndoEntry         HintKind = "undo_entry"          // entry that took back
	UndoRest          HintKind = "undo_rest"           // first, last
	RescueCases       HintKind = "rescue_cases"        // what is readable, into a new casebook
	ImportRescued     HintKind = "import_rescued"      // file, then the casebook that is damaged
	HaveAgain         HintKind = "have_again"          // entries
)

// Do makes a hint.
func Do(kind HintKind, args ...string) Hint { return Hint{kind, args} }
