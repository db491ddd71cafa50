package complaint

import (
	"regexp"
	"strconv"
	"strings"

	"slipcase/engine/quantity"
)

var miles = regexp.MustCompile(`(?i)(?:^|[^\d.,])(\d{1,3}(?:[,.]\d{3})+|\d+)\s*(k|thousand)?\s*(miles|mi|kilometers|km)\b`)

// Mileage reads how far a vehicle has gone where a text says so, in miles or
// kilometers: "gray van, 138,000 miles", "90k mi". False where it does not, or
// says it twice.
func Mileage(text string) (quantity.Quantity, bool) {
	found := miles.FindAllStringSubmatch(text, -1)
	if len(found) != 1 {
		return quantity.Quantity{}, false
	}
	n, err := strconv.ParseUint(strings.NewReplacer(",", "", ".", "").Replace(found[0][1]), 10, 32)
	if err != nil {
		return quantity.Quantity{}, false
	}
	if found[0][2] != "" {
		n *= 1000
	}
	unit := "mi"
	if strings.HasPrefix(strings.ToLower(found[0][3]), "k") {
		unit = "km"
	}
	q, err := quantity.Parse(strconv.FormatUint(n, 10) + " " + unit)
	return q, err == nil && n >= 1000
}
