package facts

import (
	"time"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/report"
)

func shopOf(t report.Terms) report.Shop {
	return report.Shop{Name: t.Shop, Address: t.Address, Desk: t.Desk, Telephone: t.Telephone, Mail: t.Mail}
}

func coachOf(r *ledger.Replay) report.Coach {
	in := r.Intake()
	return report.Coach{
		Builder: in.Text("builder"), Model: in.Text("model"), Year: int(ledger.Int(in.Body, "year")),
		VIN: in.Text("vin"), Serial: in.Text("serial"),
	}
}

// holderName is the name for the holder's own copy.
func (s *subject) holderName() string {
	if s.o.HolderName != "" {
		return s.o.HolderName
	}
	if name := s.r.Opened[s.cert.No]["holder-name"]; name != "" {
		return name
	}
	name, holder := "", s.cert.Text("holder")
	for _, a := range s.r.Acts {
		if said := s.r.Opened[a.No]["holder-name"]; said != "" && a.Holder == holder {
			name = said
		}
	}
	return name
}

// dayOf is a day of the ledger as papers have it.
func dayOf(d day.Day) report.Day {
	year, month, date := d.Date()
	return report.Day{Year: year, Month: time.Month(month), Date: date}
}

func object(v format.Value) format.Object {
	o, _ := v.(format.Object)
	return o
}

func text(o format.Object, name string) string {
	s, _ := o[name].(string)
	return s
}

// parseDay reads a day of an object, the zero day where there is none.
func parseDay(o format.Object, name string) day.Day {
	d, err := day.Parse(text(o, name))
	if err != nil {
		return day.Day{}
	}
	return d
}
