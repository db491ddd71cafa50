package check_test

import (
	"fmt"
	"io/fs"
	"os"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"slipcase/engine"
	"slipcase/internal/size"
	"slipcase/knowledge"
	"slipcase/rules"
	"slipcase/rules/check"
)

// slip is one slip of the pen in a unit file, and what is said of it.
type slip struct{ name, from, to, want string }

// TestToldOnce: one slip of the pen in a unit file is one diagnostic, error or
// warning, in that file: what follows from it is not told as well. Each is made
// in a fresh unit: the worked one of the language page, and two built-in ones
// under another name.
func TestToldOnce(t *testing.T) {
	sources := map[string]string{"paper-3": paper(t)}
	for as, id := range map[string]string{"shop-6": "lepelletier-6", "shop-4": "northfork-4"} {
		b, err := fs.ReadFile(knowledge.FS, "units/"+id+".hcl")
		if err != nil {
			t.Fatal(err)
		}
		sources[as] = strings.Replace(string(b), `unit "`+id+`"`, `unit "`+as+`"`, 1)
	}
	type one struct {
		slip
		of string
	}
	var all []one
	for of, list := range slips() {
		for i, x := range list {
			if size.Of(i%2 == 1, false, false) {
				continue
			}
			all = append(all, one{x, of})
		}
	}
	const batch = 40 // units read at once: a load tells a hundred diagnostics at most
	for len(all) > 0 {
		now := all[:min(batch, len(all))]
		all = all[len(now):]
		shop := fstest.MapFS{}
		ids := map[string]one{}
		for i, x := range now {
			src := sources[x.of]
			if !strings.Contains(src, x.from) {
				t.Errorf("%s, %s: not in the file any more", x.of, x.name)
				continue
			}
			id := fmt.Sprintf("%s-%d", x.of, i)
			src = strings.Replace(src, x.from, x.to, 1)
			shop["units/"+id+".hcl"] = &fstest.MapFile{Data: []byte(strings.Replace(src, `unit "`+x.of+`"`, `unit "`+id+`"`, 1))}
			ids[id] = x
		}
		k, diags := rules.Load(rules.Options{NoExamples: true, Layers: []rules.Layer{{Name: "knowledge", FS: knowledge.FS}, {Name: "shop", FS: shop}}})
		diags = append(diags, check.Run(k, check.Options{Known: diags})...)
		told := map[string][]engine.Diagnostic{}
		for _, d := range diags {
			told[d.Subject.File] = append(told[d.Subject.File], d)
		}
		for id, x := range ids {
			file := "shop/units/" + id + ".hcl"
			if list := told[file]; len(list) != 1 || !strings.Contains(list[0].Summary, strings.ReplaceAll(x.want, x.of, id)) {
				t.Errorf("%s, %s: want one diagnostic with %q, got %v", x.of, x.name, x.want, list)
			}
			delete(told, file)
		}
		if len(told) > 0 {
			t.Errorf("told in other files: %v", told)
		}
	}
}

// paper is the worked unit of the language page.
func paper(t *testing.T) string {
	t.Helper()
	page, err := os.ReadFile("../language.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile("(?s)```hcl\n(.*?)```").FindAllStringSubmatch(string(page), -1) {
		if strings.Contains(m[1], `unit "paper-3"`) {
			return m[1]
		}
	}
	t.Fatal("the language page has no paper-3")
	return ""
}

func slips() map[string][]slip {
	return map[string][]slip{
		"paper-3": {
			{"train without input", `    input  = "turbine"` + "\n", "", `train without input`},
			{"train without output", `    output = "output"` + "\n", "", `train without output`},
			{"no train", "  train {", "  tran {", `unknown block "tran" in block unit`},
			{"gearset without kind", "    gearset \"front\" {\n      kind    = single\n", "    gearset \"front\" {\n", `gearset "front" without kind`},
			{"gearset without sun", "      sun     = \"sun\"\n      carrier = \"output\"", "      carrier = \"output\"", `gearset "front" without sun`},
			{"gearset without teeth", "      ring    = \"front_ring\"\n      teeth   = [28, 62]", "      ring    = \"front_ring\"", `gearset "front" without teeth`},
			{"teeth one", "[28, 62]", "[28]", `1 tooth counts`},
			{"teeth text", "[28, 62]", `["28", "62"]`, `not a tooth count`},
			{"teeth wrong", "[28, 62]", "[28, 72]", `row D/1: ratio 2.45 is not the train's`},
			{"double for single", "kind    = single", "kind    = double", `row D/1 does not drive`},
			{"sun ring swapped", `sun     = "sun"` + "\n      carrier = \"output\"\n      ring    = \"front_ring\"", `sun     = "front_ring"` + "\n      carrier = \"output\"\n      ring    = \"sun\"", `row D/1: ratio 2.45 is not the train's`},
			{"clutch without joins", `    joins = ["turbine", "shell"]` + "\n", "", `clutch "direct" without joins`},
			{"clutch joins one", `joins = ["turbine", "shell"]`, `joins = ["turbine"]`, `clutch joins two members`},
			{"clutch joins itself", `joins = ["turbine", "shell"]`, `joins = ["shell", "shell"]`, `"shell" given twice in joins`},
			{"clutch joins wrong member", `joins = ["turbine", "shell"]`, `joins = ["turbine", "shll"]`, `member "shll" is named only here`},
			{"clutch joins the case", `joins = ["turbine", "shell"]`, `joins = ["case", "shell"]`, `clutch "direct" joins the case`},
			{"clutch gone", "  clutch \"direct\" {\n    title = \"direct clutch\"\n    joins = [\"turbine\", \"shell\"]\n  }\n", "", `unknown clutch, brake or band "direct"`},
			{"band gone", "  band \"low_band\" {\n    title = \"low and reverse band\"\n    holds = \"rear_carrier\"\n  }\n", "", `unknown clutch, brake or band "low_band"`},
			{"band without holds", `    holds = "shell"` + "\n", "", `band "kickdown_band" without holds`},
			{"band holds nothing known", `holds = "shell"`, `holds = "drum"`, `member "drum" is named only here`},
			{"band holds other", `holds = "shell"`, `holds = "rear_carrier"`, `row D/2: ratio 1.45 is not the train's`},
			{"wraps 2", `holds = "shell"`, "holds = \"shell\"\n    wraps = 2", `wraps is 1 or -1`},
			{"one_way without stops", `    stops = "rear_carrier"` + "\n", "", `one_way "low_one_way" without stops`},
			{"one_way turned", `    stops = "rear_carrier"`, "    stops = \"case\"\n    against = \"rear_carrier\"", `row D/1 does not drive`},
			{"one_way misspelled", `stops = "rear_carrier"`, `stops = "rear_carier"`, `member "rear_carier" is named only here`},
			{"one_way applied in place", `apply = ["forward", "low_band"]`, `apply = ["forward", "low_one_way"]`, `unknown clutch, brake or band "low_one_way"`},
			{"one_way gone", "  one_way \"low_one_way\" {\n    title = \"low one-way clutch\"\n    stops = \"rear_carrier\"\n  }\n", "", `nothing called "low_one_way" comes out of the`},
			{"joint gone", "  joint \"sun_shell\" {\n    title = \"sun shell\"\n    joins = [\"shell\", \"sun\"]\n  }\n", "", `no usual component "sun_shell"`},
			{"joint misspelled", `joins = ["shell", "sun"]`, `joins = ["shell", "son"]`, `member "son" is named only here`},
			{"front_to_back misspelled", `"kickdown_band", "direct"`, `"kickdwn_band", "direct"`, `nothing called "kickdwn_band" comes out of the`},
			{"front_to_back names converter", `"kickdown_band", "direct"`, `"converter", "direct"`, `nothing called "converter" comes out of the ca`},
			{"drive misspelled", "= rear", "= reer", `unknown word "reer" for drive`},
			{"controls misspelled", "= hydraulic", "= hydraulc", `unknown word "hydraulc" for controls`},
			{"parts misspelled", "= usual", "= usal", `unknown word "usal" for parts`},
			{"parts gone", "  parts         = usual\n", "", `component "governor" changes a usual part, and`},
			{"row without apply", "row \"D\" \"3\" {\n    apply = [\"forward\", \"direct\"]\n", "row \"D\" \"3\" {\n", `row D/3 does not drive`},
			{"row wrong ratio", "ratio = 1.45", "ratio = 1.54", `row D/2: ratio 1.54 is not the train's`},
			{"reverse positive", "ratio = -2.21", "ratio = 2.21", `row R/R: ratio 2.21 is not the train's`},
			{"ratio in quotes", "ratio = 1.45", `ratio = "1.45"`, `ratio is text, not a number`},
			{"ratio zero", "ratio = 1.45", `ratio = 0`, `ratio 0`},
			{"row applies too much", `apply = ["forward", "direct"]`, `apply = ["forward", "direct", "low_band"]`, `row D/3 does not drive`},
			{"row applies too little", `apply = ["forward", "direct"]`, `apply = ["forward"]`, `row D/3: ratio 1.00 is not the train's`},
			{"row applies wrong", `apply = ["forward", "direct"]`, `apply = ["forward", "kickdown_band"]`, `row D/3: ratio 1.00 is not the train's`},
			{"row reverse wrong", `apply = ["direct", "low_band"]`, `apply = ["forward", "low_band"]`, `row R/R: ratio -2.21 is not the train's`},
			{"row clutch misspelled", `apply = ["forward", "direct"]`, `apply = ["forward", "direkt"]`, `unknown clutch, brake or band "direkt"`},
			{"row clutch twice", `apply = ["forward", "direct"]`, `apply = ["forward", "forward"]`, `"forward" given twice in apply`},
			{"row twice", `row "2" "2" {`, `row "D" "2" {`, `row "D" "2" given twice`},
			{"row neutral drives", "row \"N\" \"N\" {\n    apply = []", "row \"N\" \"N\" {\n    apply = [\"forward\"]", `row N/N drives`},
			{"row neutral ratio", "row \"N\" \"N\" {\n    apply = []", "row \"N\" \"N\" {\n    apply = []\n    ratio = 1.0", `row N/N with a ratio`},
			{"row one label", `row "D" "3" {`, `row "D3" {`, `block row without its gear`},
			{"row holding misspelled", "row \"D\" \"1\" {\n    apply = [\"forward\"]", "row \"D\" \"1\" {\n    apply = [\"forward\"]\n    holding = [\"low_oneway\"]", `unknown one-way clutch "low_oneway"`},
			{"row holding wrong", "row \"D\" \"2\" {\n    apply", "row \"D\" \"2\" {\n    holding = [\"low_one_way\"]\n    apply", `row D/2: holding is wrong`},
			{"row braking wrong", "row \"D\" \"1\" {\n    apply = [\"forward\"]", "row \"D\" \"1\" {\n    apply = [\"forward\"]\n    engine_braking = true", `row D/1: engine_braking = true is wrong`},
			{"row converter 0", "row \"D\" \"1\" {\n    apply = [\"forward\"]", "row \"D\" \"1\" {\n    apply = [\"forward\"]\n    converter = 0", `converter 0`},
			{"row lockup without clutch", "row \"D\" \"3\" {", "row \"D\" \"3\" {\n    lockup = true", `row D/3: lockup, and the unit has no converter`},
			{"row solenoids without", "row \"D\" \"3\" {", "row \"D\" \"3\" {\n    solenoids = []", `ranges R, D, 2, 1 without failsafe`},
			{"limit unknown", "  # Where this", "  limit \"direct_clearence\" { between = [\"1 mm\", \"2 mm\"] }\n  # Where this", `no fault shows in the limit "direct_clearence"`},
			{"limit without bounds", "  # Where this", "  limit \"direct_clearance\" { }\n  # Where this", `limit "direct_clearance" without limits`},
			{"limit without unit", "  # Where this", "  limit \"direct_clearance\" { between = [\"1\", \"2\"] }\n  # Where this", `unknown unit of measure`},
			{"limit upside down", "  # Where this", "  limit \"direct_clearance\" { between = [\"2 mm\", \"1 mm\"] }\n  # Where this", `high 1 mm is below low 2 mm`},
			{"limit mixed", "  # Where this", "  limit \"direct_clearance\" { between = [\"1 psi\", \"2 mm\"] }\n  # Where this", `low is a pressure, high a length`},
			{"limit of another measure", "  # Where this", "  limit \"direct_clearance\" { between = [\"60 psi\", \"90 psi\"] }\n  # Where this", `60 psi is a pressure, and clearance is a length`},
			{"limit of a coil without temperature", "  # Where this", "  limit \"x\" {\n measures = \"resistance@direct\"\n between = [\"18 ohm\", \"24 ohm\"]\n }\n  # Where this", `resistance without its temperature`},
			{"limit measures nothing", "  # Where this", "  limit \"x\" {\n measures = \"clearance@direkt\"\n high = \"1 mm\"\n }\n  # Where this", `limit "x" measures no place of the unit`},
			{"limit step unknown", "  # Where this", "  limit \"direct_clearance\" {\n step = \"nowhere\"\n high = \"1 mm\"\n }\n  # Where this", `unknown teardown step "nowhere"`},
			{"pressure unknown range", "  # Where this", "  pressure \"idle\" \"X\" { between = [\"50 psi\", \"60 psi\"] }\n  # Where this", `unknown range "X"`},
			{"pressure unknown state", "  # Where this", "  pressure \"stall\" \"R\" { between = [\"50 psi\", \"60 psi\"] }\n  # Where this", `unknown state stall`},
			{"pressure in mm", "  # Where this", "  pressure \"idle\" \"R\" { between = [\"50 mm\", \"60 mm\"] }\n  # Where this", `50 mm is a length, not a pressure`},
			{"component kind unknown", "    kind   = external_seal", "    kind   = exernal_seal", `unknown kind of component "exernal_seal"`},
			{"component without kind", "    kind   = external_seal\n", "", `no usual component "breather"`},
			{"component serves unknown", "    serves = unit\n", "    serves = element.dirct\n", `unknown element "dirct"`},
			{"component serves wrong sort", "    serves = unit\n", "    serves = element.direct\n", `component "breather" serves a element`},
			{"component without serves", "    serves = unit\n", "", `no usual component "breather"`},
			{"component at unknown", `at     = "leaks_look"`, `at     = "leak_look"`, `unknown teardown step "leak_look"`},
			{"component without at", "    at     = \"leaks_look\"\n", "", `no step exposes component "breather"`},
			{"drop nothing", "component \"governor\" {\n    drop = true", "component \"govenor\" {\n    drop = true", `nothing to drop: no component "govenor" below`},
			{"drop step with parts", "  component \"governor\" {\n    drop = true\n  }\n", "", `"governor_look" is dropped here but still used`},
			{"in_place_of unknown", "component \"breather\" {", "component \"breather\" {\n    in_place_of = [\"breathr\"]", `no usual component "breathr"`},
			{"frequency unknown mode", "  # Where this", "  frequency \"burned_friction\" { rate = 0.02 }\n  # Where this", `unknown mode "burned_friction"`},
			{"frequency over 1", "  # Where this", "  frequency \"burnt_friction\" { rate = 2 }\n  # Where this", `2 is outside 0 to 1`},
			{"frequency no part", "  # Where this", "  frequency \"solenoid_shorted\" { rate = 0.1 }\n  # Where this", `unknown mode "solenoid_shorted"`},
			{"step after unknown", "  # Where this", "  step \"x\" {\n minutes = 5\n after = [\"pul_unit\"]\n }\n  # Where this", `unknown teardown step "pul_unit"`},
			{"step circle", "  # Where this", "  step \"pull_unit\" {\n after = [\"pump_out\"]\n }\n  # Where this", `step "pull_unit" waits for itself`},
			{"circuit feeds unknown", "  # Where this", "  circuit \"direct_feed\" { feeds = [\"direckt\"] }\n  # Where this", `unknown element "direckt"`},
			{"name twice", `clutch "forward" {`, `clutch "direct" {`, `clutch "direct" given twice`},
			{"name of circuit taken", `joint "sun_shell" {`, `joint "line" {`, `joint "line": the name is taken`},
			{"element named converter", "\n  clutch \"direct\" {", "\n  clutch \"unit\" {", `element "unit": the name is reserved`},
			{"no basis", "basis \"recalled\" {\n  note = \"ratios as printed in the manual; tooth counts that give them\"\n}\n", "", `number without basis`},
			{"published without cite", `basis "recalled"`, `basis "published"`, `published basis without cite`},
			{"basis misspelled", `basis "recalled"`, `basis "recaled"`, `unknown basis "recaled"`},
			{"language missing", "language = 1\n", "", `language missing`},
			{"language 2", "language = 1", "language = 2", `rule language 2`},
			{"file name", `unit "paper-3"`, `unit "paper-4"`, `unit in this file`},
			{"like unknown", "  parts         = usual\n", "  parts         = usual\n  like = \"harow-3\"\n", `unknown unit "harow-3"`},
			{"brace missing", "  clutch \"forward\" {\n    title = \"forward clutch\"\n    joins = [\"turbine\", \"front_ring\"]\n  }\n", "  clutch \"forward\" {\n    title = \"forward clutch\"\n    joins = [\"turbine\", \"front_ring\"]\n", `block without end`},
			{"quote missing", `joins = ["turbine", "front_ring"]`, `joins = ["turbine, "front_ring"]`, `string without end`},
			{"comma missing", `joins = ["turbine", "front_ring"]`, `joins = ["turbine" "front_ring"]`, `comma missing in a list`},
			{"argument misspelled", `    joins = ["turbine", "front_ring"]`, `    jions = ["turbine", "front_ring"]`, `unknown argument "jions" in block clutch`},
			{"argument twice", `    joins = ["turbine", "front_ring"]`, "    joins = [\"turbine\", \"front_ring\"]\n    joins = [\"turbine\", \"front_ring\"]", `argument "joins" given twice`},
			{"block misspelled", "  clutch \"forward\" {", "  cluch \"forward\" {", `unknown block "cluch" in block unit`},
			{"block misspelled one_way", "  one_way \"low_one_way\" {", "  oneway \"low_one_way\" {", `unknown block "oneway" in block unit`},
			{"label missing", "  clutch \"forward\" {", "  clutch {", `block clutch without its element`},
			{"label bad", "  clutch \"forward\" {", "  clutch \"For ward\" {", `"For ward" is not a valid name for an element`},
			{"expression", "ratio = 1.45", "ratio = 145 / 100", `operator /`},
			{"two on a line", "  band \"low_band\" {\n    title = \"low and reverse band\"\n    holds = \"rear_carrier\"\n  }\n", "  band \"low_band\" { title = \"low\" holds = \"rear_carrier\" }\n", `one-line block goes on`},
			{"input equals output", `input  = "turbine"`, `input  = "output"`, `"output" is both input and output`},
			{"two inputs", `input  = "turbine"`, `input  = ["turbine", "motor"]`, `two inputs: not covered`},
			{"formerly nothing", "  # Where this", "  formerly \"old\" { now = \"nothing\" }\n  # Where this", `is called`},
			{"converter clutch unused", "  # Where this", "  converter_clutch \"lockup\" {}\n  # Where this", `no row uses the converter clutch "lockup"`},
			{"solenoid unused", "  # Where this", "  solenoid \"a\" {}\n  # Where this", `no row says which shift solenoids`},
			{"second gearset gone", "    gearset \"rear\" {\n      kind    = single\n      sun     = \"sun\"\n      carrier = \"rear_carrier\"\n      ring    = \"output\"\n      teeth   = [28, 62]\n    }\n", "", `row R/R does not drive`},
			{"carrier misspelled", `carrier = "rear_carrier"`, `carrier = "rear_carier"`, `member "rear_carier" is named only here`},
			{"ring misspelled", `ring    = "output"`, `ring    = "outptu"`, `member "outptu" is named only here`},
			{"moved_with unknown", `title = "forward clutch"`, "title = \"forward clutch\"\n    moved_with = [\"dirct\"]", `unknown clutch, brake or band "dirct"`},
			{"failsafe unknown gear", "  # Where this", "  failsafe \"D\" { gear = \"4\" }\n  # Where this", `unknown row "D/4"`},
			{"failsafe unknown range", "  # Where this", "  failsafe \"X\" { gear = \"2\" }\n  # Where this", `unknown range "X"`},
		},
		"shop-6": {
			{"controls unknown", `controls = ["two_six"]`, `controls = ["two_sx"]`, `unknown clutch, brake or band "two_sx"`},
			{"kind misspelled", `title    = "pressure solenoid 1"`, "title    = \"pressure solenoid 1\"\n    kind     = cluch", `unknown word "cluch" for kind`},
			{"kind shift with controls", `title    = "pressure solenoid 1"`, "title    = \"pressure solenoid 1\"\n    kind     = shift", `solenoid "ps1": kind and controls do not go to`},
			{"rest misspelled", "rest     = released", "rest     = releasd", `unknown word "releasd" for rest`},
			{"without controls", "    controls = [\"two_six\"]\n", "", `solenoid "ps3": rest is said of a clutch solen`},
			{"rest of pressure", "    title = \"line pressure solenoid\"\n", "    title = \"line pressure solenoid\"\n    rest = applied\n", `solenoid "pressure_control": rest is said of a clu`},
			{"brake misspelled in rows", `apply = ["one_to_four", "two_six"]`, `apply = ["one_to_four", "two_sx"]`, `unknown clutch, brake or band "two_sx"`},
			{"wrong row", `apply = ["one_to_four", "two_six"]`, `apply = ["one_to_four", "low_reverse"]`, `row D/2: ratio 2.340 is not the train's`},
			{"sun not case", `sun     = "case"`, `sun     = "cas"`, `member "cas" is named only here`},
			{"teeth", "[31, 85]", "[13, 85]", `row D/1: ratio 4.171 is not the train's`},
			{"converter clutch gone", "  converter_clutch \"lockup\" {\n    title = \"converter clutch\"\n  }\n", "", `row D/3: lockup, and the unit has no converter`},
			{"converter clutch applied", `apply  = ["two_six", "four_to_six"]`, `apply  = ["two_six", "four_to_six", "lockup"]`, `unknown clutch, brake or band "lockup"`},
			{"clutch gone", "  clutch \"four_to_six\" {\n    title = \"fourth to sixth clutch\"\n    joins = [\"input\", \"carrier\"]\n  }\n", "", `unknown clutch, brake or band "four_to_six"`},
			{"brake gone", "  brake \"two_six\" {\n    title = \"second and sixth brake\"\n    holds = \"large_sun\"\n  }\n", "", `unknown clutch, brake or band "two_six"`},
			{"clutch renamed", `clutch "four_to_six"`, `clutch "four_six"`, `unknown clutch, brake or band "four_to_six"`},
			{"failsafe gear", `gear = "5"`, `gear = "7"`, `unknown row "D/7"`},
			{"failsafe gear of the chart", `gear = "5"`, `gear = "4"`, `failsafe "D": without current it is not gear 4`},
			{"rest turned", "rest     = applied", "rest     = released", `failsafe "D": without current it is not gear 5`},
			{"fed by the valve", `by_valve = ["low_reverse"]`, `by_valve = ["low_revers"]`, `unknown element "low_revers"`},
			{"fed by the valve elsewhere", `by_valve = ["low_reverse"]`, `by_valve = ["low_reverse", "two_six"]`, `failsafe "R": R/R does not apply "two_six"`},
			{"limit component", `limit "low_reverse_clearance" {`, "limit \"low_reverse_clearance\" {\n    component = \"low_reverse_friction\"", `unknown component "low_reverse_friction"`},
			{"limit measures", `limit "low_reverse_clearance" {`, "limit \"low_reverse_clearance\" {\n    measures = \"clearance@low_revers\"", `limit "low_reverse_clearance" measures no plac`},
			{"limit measures finding", `limit "low_reverse_clearance" {`, "limit \"low_reverse_clearance\" {\n    measures = \"clearence@low_reverse\"", `no finding reads the limit "low_reverse_cleara`},
			{"carrier twice named", `carrier = "front_carrier"`, `carrier = "frontcarrier"`, `member "frontcarrier" is named only here`},
			{"row R gone", "  row \"R\" \"R\" {\n    apply = [\"three_five_reverse\", \"low_reverse\"]\n    ratio = -3.403\n  }\n", "", `unknown range "R"`},
		},
		"shop-4": {
			{"solenoid misspelled", `solenoids = ["a", "b"]`, `solenoids = ["a", "bb"]`, `unknown solenoid "bb"`},
			{"solenoid gone", "  solenoid \"b\" { title = \"shift solenoid B\" }\n", "", `unknown solenoid "b"`},
			{"same state", `solenoids = ["a"]`, `solenoids = ["a", "b"]`, `rows D/1 and D/2 with the same solenoids`},
			{"stuck state", `solenoids = ["b"]`, `solenoids = ["pressure_control"]`, `no gear for D/1 with "a" stuck off`},
			{"solenoids not said", "    solenoids = [\"b\"]\n", "", `no gear for D/1 with "a" stuck off`},
			{"roller turned", "    stops   = \"reverse_drum\"\n    against = \"intermediate_race\"", "    stops   = \"intermediate_race\"\n    against = \"reverse_drum\"", `row D/2: ratio 1.56 is not the train's`},
			{"low roller turned", `one_way "low_roller" { stops = "carrier" }`, "one_way \"low_roller\" {\n stops = \"case\"\n against = \"carrier\"\n }", `row D/1 does not drive`},
			{"brake misspelled", `holds = "intermediate_race"`, `holds = "intermediate_rac"`, `members "intermediate_rac" and "intermediate_r`},
			{"failsafe gone", "  failsafe \"L\" { gear = \"1\" }\n", "", `range L without failsafe`},
			{"feeds misspelled", `feeds = ["overdrive_band"]`, `feeds = ["overdriveband"]`, `unknown element "overdriveband"`},
			{"in place misspelled", `in_place_of = ["long_gearset", "short_gearset"]`, `in_place_of = ["long_gearst", "short_gearset"]`, `no usual component "long_gearst"`},
			{"serves misspelled", "serves = circuit.direct_feed", "serves = circuit.direct_fed", `unknown circuit "direct_fed"`},
			{"shift misspelled", `shift["2-3"]]`, `shift["2-5"]]`, `unknown shift "2-5"`},
			{"step misspelled", `at = "pump_out"`, `at = "pump_ot"`, `unknown teardown step "pump_ot"`},
			{"after misspelled", `after       = ["planetary_out", "extension_off"]`, `after       = ["planetary_out", "extension_of"]`, `unknown teardown step "extension_of"`},
			{"formerly", `now = "input_shaft" }`, `now = "inputshaft" }`, `is called`},
			{"drop step", `step "intermediate_piston_out" { drop = true }`, `step "pump_out" { drop = true }`, `"pump_out" is dropped here but still used`},
			{"drop step full", `component "accumulator_3_4" { drop = true }`, `component "accumulator_3_4" { drop = false }`, `drop is true or absent`},
			{"row misspelled range", `row "L" "1"`, `row "1" "1"`, `unknown range "L"`},
			{"pressure range gone", `pressure "idle" "L"`, `pressure "idle" "1"`, `unknown range "1"`},
			{"servo renamed", `component "overdrive_servo" { title = "overdrive servo" }`, `component "overdriv_servo" { title = "overdrive servo" }`, `no usual component "overdriv_servo"`},
			{"limit frame unknown", `limit "overdrive_servo_travel"`, `limit "servo_travel"`, `is called`},
			{"joint misspelled", `joins = ["ring", "output"]`, `joins = ["ring", "outpt"]`, `members "output" and "outpt" are each named on`},
		},
	}
}
