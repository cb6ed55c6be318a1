package main

// stops are hard stops that stand in a condition or in a word and not in a function of reasons: bounds against
// means, what a bag is told on paper and by its cautions, the tests at the bench, parting, baths, the phone's page.
// What the handbook's records say is in lines.go.
var stops = []stop{
	{"the record's bar", "reuse/heat.go", "case m.NeverHeat:", "case m.NeverHeat && !mutant(NAME):", "reuse", "^TestHardStops$"},
	{"share bound of 0.1 %", "reuse/heat.go", "!(p <= MostHardStop) {\n\t\t\tno = append", "!(p <= MostHardStop) && !(mutant(NAME) && p <= 0.005) {\n\t\t\tno = append", "reuse", "^TestHardStops$"},
	{"bound, not mean", "reuse/heat.go", "in.Possible[sym] = max(in.Possible[sym], sh.upper[k])", "in.Possible[sym] = max(in.Possible[sym], sh.upper[k])\n\t\t\t\tif mutant(NAME) {\n\t\t\t\t\tin.Possible[sym] = 0\n\t\t\t\t}", "reuse", "^TestHardStops$"},
	{"melt: by bounds, not means", "reuse/blends.go", "if ok && hot && v.sh.upper[k] > worst {", "if ok && hot && v.sh.upper[k] > worst && !(mutant(NAME) && v.sh.mean[k] < 0.02) {", "reuse", "^TestRoutes$"},
	{"outlet: refusals", "reuse/outlet.go", "if r := v.refused(o); r != \"\" {", "if r := v.refused(o); r != \"\" && !mutant(NAME) {", "reuse", "^TestRefusals$"},
	{"chlorides never air-dry", "reuse/cautions.go", "if hygroscopic(b) {", "if hygroscopic(b) && !mutant(NAME) {", "reuse", "^TestHotCautions$"},
	{"chlorides never air-dry, the bath", "reuse/residues.go", "case hygroscopic(salt):", "case hygroscopic(salt) && !mutant(NAME):", "reuse", "^TestResidues$"},
	{"clean tool before heat", "reuse/cautions.go", "cautionFume, cautionMelt, cautionTool}", "cautionFume, cautionMelt, map[bool]string{false: cautionTool}[mutant(NAME)]}", "reuse", "^TestHotCautions$"},
	{"label: do not heat", "reuse/label.go", "if !d.MayBeHeated || w.Head == unidentified {", "if (!d.MayBeHeated || w.Head == unidentified) && !mutant(NAME) {", "reuse", "^TestLabelWords$"},
	{"press: ceiling, with the doubt", "reuse/press/refuse.go", "return float64(t.Value + 2*t.SD)", "if mutant(NAME) {\n\t\treturn float64(t.Value)\n\t}\n\treturn float64(t.Value + 2*t.SD)", "reuse/press", "^TestRefused$"},
	{"regrind: never-heat", "reuse/press/regrind.go", "if err := mayBeHot(r.Material); err != nil {", "if err := mayBeHot(r.Material); err != nil && !mutant(NAME) {", "reuse/press", "^TestNeverHeatWhateverIsAsked$"},
	{"bench: no heat for a barred lot", "reuse/advice/lots.go", "if t.Heats || t.Kind == cues.Bend ||", "if t.Heats && !mutant(NAME) || t.Kind == cues.Bend ||", "reuse/advice", "^TestBarredLotsStayColdAndWhole$"},
	{"bench: no bending of a barred lot", "reuse/advice/lots.go", "t.Kind == cues.Bend || decided(l)", `t.Kind == cues.Bend && !mutant(NAME) || decided(l)`, "reuse/advice", "^TestBarredLotsStayColdAndWhole$"},
	{"bench: no cutting of a barred lot", "reuse/advice/lots.go", "out[l.Name] = !l.Heat.May", "out[l.Name] = !l.Heat.May && !mutant(NAME)", "reuse/advice", "^TestBarredLotsStayColdAndWhole$"},
	{"marked with a never-heat polymer", "reuse/advice/lots.go", "if rec, ok := polymers.Find(s); ok && rec.NeverHeat {", "if rec, ok := polymers.Find(s); ok && rec.NeverHeat && !mutant(NAME) {", "reuse/advice", "^TestMarkingsBar$"},
	{"marked flame-retarded", "reuse/advice/lots.go", "if len(m.FlameRetardants) > 0 {", "if len(m.FlameRetardants) > 0 && !mutant(NAME) {", "reuse/advice", "^TestMarkingsBar$"},
	{"a lot by its bound", "reuse/advice/lots.go", "in.Possible[s] = b.Possible[l][i]", "in.Possible[s] = b.Possible[l][i]\n\t\tif mutant(NAME) {\n\t\t\tin.Possible[s] = 0\n\t\t}", "reuse/advice", "^TestHeatOfALot$"},
	{"flame only where allowed", "reuse/advice/menu.go", "if t.LastWay && !slices.Contains(bin.Kit.Allow, string(t.Kind)) {", "if t.LastWay && !slices.Contains(bin.Kit.Allow, string(t.Kind)) && !mutant(NAME) {", "reuse/advice", "^TestMenuKeepsApart$"},
	{"no heat gun after a solvent", "reuse/advice/menu.go", "t.Heats && solventUsed(bin)", "t.Heats && solventUsed(bin) && !mutant(NAME)", "reuse/advice", "^TestMenuKeepsApart$"},
	{"no solvent after a heat gun", "reuse/advice/menu.go", "t.Solvent && heatUsed(bin)", "t.Solvent && heatUsed(bin) && !mutant(NAME)", "reuse/advice", "^TestMenuKeepsApart$"},
	{"chart: solvent beside heat", "sorting/triage/key.go", "if t.Solvent && u.Heats || t.Heats && u.Solvent {", "if (t.Solvent && u.Heats || t.Heats && u.Solvent) && !mutant(NAME) {", "sorting/triage", "^TestChartIsSafe$"},
	{"chart: heat where a lot is barred", "sorting/triage/key.go", "barred = barred || contains(kinds, o.Kind)", "barred = barred || contains(kinds, o.Kind) && !mutant(NAME)", "cmd/brinecut", "^TestBarredLotsOfEveryBin$"},
	{"next: heat where the lot is barred", "sorting/triage/look.go", "contains(n.menu.Forbidden[p.name], o.Kind) {", "contains(n.menu.Forbidden[p.name], o.Kind) && !mutant(NAME) {", "sorting/triage", "^TestNextLaws$"},
	{"parting: no cutting of a barred lot", "sorting/separation/plan.go", "if f.Lot.Prep == sorting.AsIs && !f.NoCutting {", "if f.Lot.Prep == sorting.AsIs && (!f.NoCutting || mutant(NAME)) {", "sorting/separation", "^TestCuttingFirst$"},
	{"alcohol beside a flame", "sorting/bath/fire.go", "if len(beside) > 0 {", "if len(beside) > 0 && !mutant(NAME) {", "sorting/bath", "^TestRefusals$"},
	{"alcohol beside a flame, offered", "sorting/bath/reach.go", "return len(p.Beside) > 0 || len(heatSourcesOf(kit)) > 0", "return (len(p.Beside) > 0 || len(heatSourcesOf(kit)) > 0) && !mutant(NAME)", "sorting/bath", "^TestNoAlcoholBesideAFlame$"},
	{"alcohol that is warm", "sorting/bath/fire.go", "if temp > roomLimit && (!ok || temp > flash-flashMargin) {", "if temp > roomLimit && (!ok || temp > flash-flashMargin) && !mutant(NAME) {", "sorting/bath", "^TestNoAlcoholBesideAFlame$"},
	{"bench page: heat on a barred lot", "cmd/brinecut/internal/page/bench_pick.go", "if why, barred := tooHot(run.answer, v.Lot, t); barred {", "if why, barred := tooHot(run.answer, v.Lot, t); barred && !mutant(NAME) {", "cmd/brinecut/internal/page", "^TestBenchHardStop$"},
	{"bench page: a barred piece stays whole, proposed", "cmd/brinecut/internal/page/bench_view.go", "if b.Whole {", "if b.Whole && !mutant(NAME) {", "cmd/brinecut/internal/page", "^TestBenchLeavesBarredPiecesWhole$"},
	{"bench page: a barred piece stays whole, picked", "cmd/brinecut/internal/page/bench_pick.go", "l.Name == lot && !l.Heat.May }", "l.Name == lot && !l.Heat.May && !mutant(NAME) }", "cmd/brinecut/internal/page", "^TestBenchLeavesBarredPiecesWhole$"},
	{"next: a barred piece stays whole", "cmd/brinecut/internal/show/next.go", "if b.Whole {", "if b.Whole && !mutant(NAME) {", "cmd/brinecut", "^TestNextLeavesBarredPiecesWhole$"},
	{"bench page: no flame", "cmd/brinecut/internal/page/bench_pick.go", "o.Kind != cues.Flame {", "o.Kind != cues.Flame || mutant(NAME) {", "cmd/brinecut/internal/page", "^TestBenchHasNoFlame$"},
}
