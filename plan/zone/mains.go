package zone

import (
	"strings"
	"time"
)

// mains60 are the places with mains of 60 Hz, by the beginnings of their zones' names, mains50 those among
// them with 50, and elsewhere it is 50 too (from memory). Japan has both.
var (
	mains60   = []string{"America/", "US/", "Canada/", "Mexico/", "Brazil/", "Cuba", "Pacific/Honolulu", "Pacific/Guam", "Pacific/Saipan", "Pacific/Pago_Pago", "Pacific/Midway", "Pacific/Wake", "Pacific/Palau", "Pacific/Majuro", "Pacific/Kwajalein", "Asia/Seoul", "ROK", "Asia/Taipei", "ROC", "Asia/Manila", "Asia/Riyadh", "Africa/Monrovia"}
	mains50   = []string{"America/Argentina", "America/Buenos_Aires", "America/Santiago", "Chile/", "America/Montevideo", "America/Asuncion", "America/La_Paz", "America/Barbados", "America/Jamaica", "Jamaica", "America/Cayenne", "America/Martinique", "America/Guadeloupe", "America/Nuuk", "America/Godthab"}
	elsewhere = []string{"Europe/", "Africa/", "Asia/", "Australia/", "Atlantic/", "Indian/", "Pacific/", "Antarctica/", "Arctic/"}
)

// MainsHz returns the frequency of the mains where a zone is kept, 0 where it does not tell.
func MainsHz(zone *time.Location) float64 {
	if zone == nil {
		return 0
	}
	name := zone.String()
	in := func(list []string) bool {
		for _, p := range list {
			if strings.HasPrefix(name, p) {
				return true
			}
		}
		return false
	}
	switch {
	case name == "Asia/Tokyo":
		return 0
	case in(mains50):
		return 50
	case in(mains60):
		return 60
	case in(elsewhere):
		return 50
	}
	return 0
}
