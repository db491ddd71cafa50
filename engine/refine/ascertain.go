package refine

import "hash/fnv"

// What a vehicle is brought in for was not asked: it is reported because it is
// there. Were it learned from like an answer, every complaint would count as
// something that showed, and the same thing not showing only where somebody asked
// for it: of a shop that is as the rules say, dozens of strengths would rise (see
// DEVELOPERS.md). A vehicle with g there that came in for something else was asked
// for g as often as one without. So what it came in for counts in as many of the
// cases as g is asked for in the others, by lot: what is known of g is then known of
// a share of the vehicles that does not depend on it. (Ascertainment, as of families
// that are found through a patient: Weinberg 1912, Fisher 1934.)
func ascertain(items []*item) {
	type place struct {
		b    *binding
		node int
	}
	came, asked := map[place]float64{}, map[place]float64{}
	all := map[*binding]float64{}
	for _, it := range items {
		all[it.b]++
		if it.stated >= 0 {
			came[place{it.b, it.all[it.stated].Node}]++
		}
		seen := map[int]bool{}
		for i := range it.answers {
			if n := it.answers[i].node; !seen[n] {
				seen[n] = true
				asked[place{it.b, n}]++
			}
		}
	}
	for _, it := range items {
		it.brought = it.came
		if it.stated < 0 {
			continue
		}
		x := place{it.b, it.all[it.stated].Node}
		it.unsaid = lot(it.id)*(all[it.b]-came[x]) >= asked[x]
	}
}

// lot is a number in 0..1 that a case draws by its name, the same at any time.
func lot(id string) float64 {
	h := fnv.New64a()
	h.Write([]byte("stated "))
	h.Write([]byte(id))
	x := h.Sum64() // low digits of short names are in step: mix
	x ^= x >> 33
	x *= 0xff51afd7ed558ccd
	x ^= x >> 33
	return float64(x>>11) / (1 << 53)
}
