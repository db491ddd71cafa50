package rules

import (
	"slipcase/engine"
	"slipcase/engine/quantity"
)

// LanguageVersion is the newest version of the language that Load reads.
const LanguageVersion = 1

// form is what an argument's value looks like.
type form uint8

const (
	fText     form = iota // "text"
	fName                 // "name" or bare word
	fNames                // list of names
	fTexts                // list of texts
	fWord                 // one of a set, bare or quoted
	fWords                // list of these
	fBool                 // true or false
	fNumber               // a number, at least min
	fRate                 // a number in 0..1
	fStrength             // a number in 0..1, or a word for one
	fInteger              // a whole number that needs no basis
	fRatio                // a number kept exactly, with its digits
	fTeeth                // [sun, ring]
	fQuantity             // "62 psi"
	fMeasured             // a quantity read on the job: needs no basis
	fTarget               // element.forward, converter, or a list of such
	fTime                 // "2026-03-01" or with the time of day
)

// argSpec describes one argument of a block.
type argSpec struct {
	name     string
	form     form
	required bool
	words    []string // fWord, fWords: what it may be
	min      float64  // fNumber, fInteger
}

// blockSpec describes one type of block.
type blockSpec struct {
	name   string
	labels []labelSpec
	args   []argSpec
	blocks []*blockSpec
	repeat bool // may stand several times with the same labels
	single bool // unlabelled, at most once
	byWhen bool // `when` belongs to its key
}

// labelSpec describes a label: what the name looks like, in words.
type labelSpec struct {
	what     string
	form     nameForm
	optional bool
}

func (b *blockSpec) arg(name string) *argSpec {
	for i := range b.args {
		if b.args[i].name == name {
			return &b.args[i]
		}
	}
	return nil
}

func (b *blockSpec) block(name string) *blockSpec {
	for _, c := range b.blocks {
		if c.name == name {
			return c
		}
	}
	return nil
}

func arg(name string, f form) argSpec { return argSpec{name: name, form: f} }

func must(name string, f form) argSpec { return argSpec{name: name, form: f, required: true} }

func word(name string, words ...string) argSpec {
	return argSpec{name: name, form: fWord, words: words}
}

func args(a ...argSpec) []argSpec { return a }

func label(what string, f nameForm) []labelSpec { return []labelSpec{{what: what, form: f}} }

func texts[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = string(s)
	}
	return out
}

var (
	conditionWords = texts(engine.Conditions)
	stageWords     = texts(engine.Stages)
	dimensionWords = texts(quantity.Dimensions())
	targetWords    = []string{"element", "circuit", "solenoid", "joint", "gearset", "shift", "range", "converter", "unit"}
	perWords       = []string{"row", "row_gear", "shift", "engagement", "pressure", "circuit", "element", "solenoid", "limit"}
	controlsWords  = []string{"hydraulic", "electronic", "adaptive"}
)

// link is a block that names a consequence: its strength, and when.
func link(name, what string, f nameForm) *blockSpec {
	return &blockSpec{name: name, labels: label(what, f), byWhen: true, args: args(
		must("strength", fStrength), word("when", conditionWords...))}
}

var basisSpec = &blockSpec{name: "basis", labels: label("kind of basis", anyText), args: args(
	arg("note", fText), arg("cite", fText), argSpec{name: "cases", form: fInteger})}

// caseBlocks are the blocks that a case and an example share.
var caseBlocks = []*blockSpec{
	{name: "reports", labels: label("reporter", plainName), repeat: true, args: args(
		arg("present", fNames), arg("absent", fNames), arg("unknown", fNames), arg("good", fNames), arg("note", fText), arg("at", fTime))},
	{name: "reading", labels: []labelSpec{{what: "what is measured", form: plainName}, {what: "place", form: anyText, optional: true}}, repeat: true, args: args(
		must("value", fMeasured), arg("by", fName), arg("at", fTime))},
	{name: "found", labels: label("component", plainName), repeat: true, args: args(
		must("mode", fName), arg("cause", fName), arg("note", fText), arg("photo", fText))},
	{name: "cleared", labels: label("component", plainName), args: args(arg("note", fText))},
	{name: "settled", labels: label("root cause", plainName), args: args(must("present", fBool))},
}

// language is the whole of the rule language: the blocks at the top of a file.
// Page language.md says the same in words; a test compares them.
var language = &blockSpec{name: "file", args: args(argSpec{name: "language", form: fInteger}), blocks: []*blockSpec{
	{name: "kind", labels: label("kind of component", plainName), args: args(
		arg("title", fText), argSpec{name: "serves", form: fWords, words: targetWords}, arg("outside", fBool), arg("bench", fText), arg("renew", fText), arg("collects", fNames), arg("clean", fText))},
	{name: "stress", labels: label("stress", plainName), args: args(arg("title", fText))},
	{name: "cause", labels: label("root cause", plainName), args: args(
		arg("title", fText), arg("formerly", fNames), arg("frequency", fRate), arg("settled_by", fNames), arg("advice", fText), arg("context", fBool)),
		blocks: []*blockSpec{
			link("stresses", "stress", plainName),
			link("shows", "finding", findingForm),
		}},
	{name: "mode", labels: label("mode", plainName), args: args(
		arg("title", fText), must("of", fNames), arg("formerly", fNames), arg("frequency", fRate), arg("duty", fBool), arg("look", fText), arg("settled_by", fNames)),
		blocks: []*blockSpec{
			link("effect", "effect", plainName),
			link("shows", "finding", findingForm),
			{name: "because", labels: label("stress, cause or mode", plainName), args: args(
				must("strength", fStrength), word("scope", "same", "shares", "against", "any"))},
			link("stresses", "stress", plainName),
		}},
	{name: "finding", labels: label("finding", plainName), args: args(
		arg("title", fText), word("per", perWords...), argSpec{name: "stage", form: fWord, words: stageWords, required: true},
		arg("formerly", fNames), arg("phrases", fTexts), arg("leak", fRate), arg("reporter", fName),
		arg("reading", fName), word("reading_side", "low", "high", "either"), word("reading_is", dimensionWords...), arg("hides", fNames), arg("clears", fNames), arg("cleared", fRate), arg("note", fText)),
		blocks: []*blockSpec{link("sign", "outcome", plainName)}},
	{name: "reporter", labels: label("reporter", plainName), args: args(
		arg("title", fText), must("hit", fRate), must("false_alarm", fRate), arg("unfounded", fRate)),
		blocks: []*blockSpec{{name: "on", labels: label("finding", plainName), args: args(
			word("controls", controlsWords...), must("hit", fRate), must("false_alarm", fRate))},
			reporterRateSpec}},
	{name: "check", labels: label("check", plainName), args: args(
		arg("title", fText), argSpec{name: "stage", form: fWord, words: stageWords, required: true}, arg("minutes", fNumber),
		arg("reporter", fName), arg("yields", fNames), arg("asks", fText), arg("why", fText),
		arg("cautions", fNames), arg("unless", fNames), arg("needs", fNames), arg("before", fNames), arg("opens", fBool), arg("follows", fNames), arg("repairs", fBool), arg("only", fNames)),
		blocks: []*blockSpec{
			{name: "withheld", repeat: true, args: args(arg("if", fName), arg("until", fNames), must("reason", fText))},
			{name: "choice", labels: label("choice", plainName), args: args(
				must("title", fText), arg("present", fNames), arg("absent", fNames), arg("unknown", fNames), arg("asks", fNames))},
			{name: "counts", labels: label("unit of the number", plainName), args: args(arg("from", fNumber), arg("shifts", fBool))},
		}},
	{name: "caution", labels: label("caution", plainName), args: args(must("text", fText))},
	{name: "withheld", labels: label("withheld block", plainName), args: args(arg("if", fName), arg("until", fNames), must("reason", fText))},
	{name: "code", labels: label("trouble code", codeForm), args: args(
		arg("title", fText), arg("leak", fRate)),
		blocks: []*blockSpec{{name: "sign", labels: label("effect or finding", anyText), args: args(must("strength", fStrength))}}},
	{name: "example", labels: label("example", anyText), args: args(
		must("unit", fName), arg("title", fText), arg("vehicle", fText), arg("done", fNames),
		arg("cite", fText), must("expect", fNames), arg("cause", fNames), argSpec{name: "within", form: fInteger, min: 1}),
		blocks: caseBlocks},
	familySpec,
	{name: "case", labels: label("case", idForm), args: args(
		arg("title", fText), must("unit", fName), arg("vehicle", fText), arg("done", fNames)),
		blocks: caseBlocks},
	usualSpec,
	unitSpec,
}}

// familySpec is how the variants of a unit are told apart.
var familySpec = &blockSpec{name: "family", labels: label("family", idForm), args: args(arg("title", fText)),
	blocks: []*blockSpec{
		{name: "feature", labels: label("feature", plainName), args: args(
			arg("title", fText), argSpec{name: "kind", form: fWord, words: texts(engine.FeatureKinds), required: true},
			arg("asks", fText), arg("minutes", fNumber), arg("cautions", fNames))},
		{name: "variant", labels: label("variant", idForm), args: args(
			arg("title", fText), arg("unit", fName), arg("share", fRate), arg("notes", fTexts)),
			blocks: []*blockSpec{{name: "has", labels: label("feature", plainName), args: args(
				arg("size", fQuantity), arg("tolerance", fQuantity), arg("there", fBool), arg("pattern", fTexts),
				argSpec{name: "from", form: fInteger, min: 1900}, argSpec{name: "to", form: fInteger, min: 1900})}}},
		{name: "fit", labels: label("fit", plainName), args: args(
			arg("title", fText), must("bore", fName), must("shaft", fName), arg("limit", fName))},
	}}

// usualSpec is what a thing of a unit usually has. A star in a name or title
// stands for the thing.
var usualSpec = &blockSpec{name: "usual", labels: []labelSpec{{what: "thing that has them", form: plainName}, {what: "which of them", form: anyText, optional: true}},
	args: args(arg("only", fNames), arg("front", fName)),
	blocks: []*blockSpec{
		{name: "circuit", labels: label("circuit", patternName), args: args(arg("title", fText), arg("main", fBool), arg("tap", fText))},
		{name: "component", labels: label("component", patternName), args: args(
			arg("title", fText), must("kind", fName), must("serves", fNames), must("at", fName), arg("bench", fText))},
		{name: "step", labels: label("step", patternName), args: args(
			arg("title", fText), argSpec{name: "stage", form: fWord, words: []string{"in_vehicle", "pulled", "teardown"}},
			arg("after", fNames), arg("minutes", fNumber), arg("measure", fTexts), arg("look", fTexts),
			arg("cautions", fNames), arg("pulls", fBool), arg("repair", fNumber), arg("refit", fNumber), arg("same_as", fNames))},
		{name: "limit", labels: label("limit", patternName), args: args(
			must("title", fText), arg("component", fName), arg("step", fName), arg("check", fName), arg("measures", fText),
			arg("low", fQuantity), arg("high", fQuantity), arg("between", fQuantity))},
	}}

func elementSpec(name string, a ...argSpec) *blockSpec {
	return &blockSpec{name: name, labels: label("element", plainName), args: append(args(arg("title", fText)), a...)}
}

// frequencySpec overrides the rate of a mode in a component; unitFrequencySpec in a
// unit, for all its parts or the one named.
var (
	frequencySpec     = &blockSpec{name: "frequency", labels: label("mode", plainName), args: args(must("rate", fRate))}
	unitFrequencySpec = &blockSpec{name: "frequency", labels: []labelSpec{{what: "mode", form: plainName}, {what: "component", form: plainName, optional: true}}, args: args(must("rate", fRate))}
)

// reporterRateSpec is how often a shop's reporter errs in general; what the rules
// say of single findings goes with it in proportion.
var reporterRateSpec = &blockSpec{name: "rate", labels: label("false_alarm or miss", plainName), args: args(must("is", fRate))}

var unitSpec = &blockSpec{name: "unit", labels: label("unit", idForm), args: args(
	arg("title", fText), arg("note", fText), word("drive", "rear", "front", "all"), word("controls", controlsWords...), arg("like", fName),
	word("parts", "usual"), arg("front_to_back", fNames)),
	blocks: []*blockSpec{
		{name: "train", single: true, args: args(must("input", fName), must("output", fName)), blocks: []*blockSpec{
			{name: "gearset", labels: label("gearset", plainName), args: args(
				arg("title", fText), argSpec{name: "kind", form: fWord, words: []string{"single", "double"}, required: true},
				must("sun", fName), must("carrier", fName), must("ring", fName), must("teeth", fTeeth))}}},
		elementSpec("clutch", must("joins", fNames), arg("moved_with", fNames)),
		elementSpec("brake", must("holds", fName), arg("moved_with", fNames)),
		elementSpec("band", must("holds", fName), argSpec{name: "wraps", form: fInteger, min: -1}, arg("screw", fBool), arg("moved_with", fNames)),
		elementSpec("one_way", must("stops", fName), arg("against", fName)),
		elementSpec("converter_clutch"),
		{name: "joint", labels: label("joint", plainName), args: args(arg("title", fText), must("joins", fNames))},
		{name: "circuit", labels: label("circuit", plainName), args: args(arg("title", fText), arg("main", fBool), arg("feeds", fNames), arg("releases", fNames), arg("tap", fText))},
		{name: "solenoid", labels: label("solenoid", plainName), args: args(arg("title", fText), word("kind", "shift", "pressure", "converter", "clutch"),
			arg("controls", fNames), word("rest", "applied", "released"))},
		{name: "row", labels: []labelSpec{{what: "range", form: gearForm}, {what: "gear", form: gearForm}}, args: args(
			arg("apply", fNames), arg("holding", fNames), arg("lockup", fBool), arg("ratio", fRatio), arg("engine_braking", fBool),
			arg("solenoids", fNames), arg("converter", fNumber), arg("pressure", fNumber))},
		{name: "failsafe", labels: label("range", gearForm), args: args(must("gear", fName), arg("by_valve", fNames), arg("powered", fBool))},
		{name: "pressure", labels: []labelSpec{{what: "idle or load", form: plainName}, {what: "range", form: gearForm}}, args: args(
			arg("low", fQuantity), arg("high", fQuantity), arg("between", fQuantity))},
		unitFrequencySpec,
		{name: "formerly", labels: label("old name", plainName), args: args(must("now", fName))},
		{name: "component", labels: label("component", plainName), args: args(
			arg("title", fText), must("kind", fName), must("serves", fTarget), arg("at", fName), arg("formerly", fNames), arg("bench", fText), arg("in_place_of", fNames)),
			blocks: []*blockSpec{frequencySpec}},
		{name: "step", labels: label("step", plainName), args: args(
			arg("title", fText), argSpec{name: "stage", form: fWord, words: []string{"in_vehicle", "pulled", "teardown"}},
			arg("after", fNames), arg("minutes", fNumber), arg("exposes", fNames), arg("measure", fTexts), arg("look", fTexts),
			arg("cautions", fNames), arg("pulls", fBool), arg("repair", fNumber), arg("refit", fNumber), arg("same_as", fNames), arg("in_place_of", fNames))},
		{name: "limit", labels: label("limit", plainName), args: args(
			arg("title", fText), arg("component", fName), arg("step", fName), arg("check", fName), arg("measures", fText), arg("low", fQuantity), arg("high", fQuantity), arg("between", fQuantity))},
	}}
