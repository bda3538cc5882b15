package reckon

import (
	"math"
	"strconv"
	"strings"

	"lapmark/ledger/day"
	"lapmark/ledger/trade"
)

// logForm is how a temperature log is written in one value: points with commas
// between them, TIME/TEMPERATURE, and /LOWEST where the lowest since the last
// point was read. TIME is the clock, 16:30 (one that is not later than the last
// is of the next day), a moment, 2020-04-09T16:30, or hours, 4h. The tables
// write HOURS:TEMPERATURE.
const logForm = "16:30/19C,20:30/17C,0:30/14C/12C"

// airLog is a log as it was given: its points in minutes, and how a time is
// said.
type airLog struct {
	points []trade.Point
	say    func(minute int64) string
}

func readLog(text string) (airLog, error) {
	if !strings.Contains(text, "/") {
		return readHours(text)
	}
	var log airLog
	for one := range strings.SplitSeq(text, ",") {
		parts := strings.Split(one, "/")
		if len(parts) < 2 || len(parts) > 3 {
			return airLog{}, badf("%.40q is no point of a log: write %s", one, logForm)
		}
		at, say, err := log.time(parts[0])
		if err != nil {
			return airLog{}, err
		}
		p := trade.Point{At: at}
		if p.Temp, err = degrees(parts[1]); err != nil {
			return airLog{}, err
		}
		if len(parts) == 3 {
			low, err := degrees(parts[2])
			if err != nil {
				return airLog{}, err
			}
			p.Lowest = &low
		}
		log.points, log.say = append(log.points, p), say
	}
	return log, nil
}

// time reads the time of a point and says how times of that form are said.
func (l airLog) time(text string) (minute int64, say func(int64) string, err error) {
	if hours, ok := strings.CutSuffix(text, "h"); ok {
		minute, err := inHours(hours)
		return minute, sayHours, err
	}
	if strings.Contains(text, "T") {
		m, err := day.ParseMoment(text + "+00:00")
		if err != nil {
			return 0, nil, badf("%.40q is no moment: write 2020-04-09T16:30", text)
		}
		return m.UTC(), func(at int64) string { m := day.MomentAt(at, 0); return m.Day().String() + "T" + m.Clock() }, nil
	}
	h, m, ok := strings.Cut(text, ":")
	hour, okHour := decimal(h)
	minutes, okMinute := decimal(m)
	if !ok || !okHour || !okMinute || len(m) != 2 || hour > 23 || minutes > 59 || strings.ContainsAny(text, ".") {
		return 0, nil, badf("%.40q is no time: write 16:30, 2020-04-09T16:30 or 4h", text)
	}
	at := int64(hour)*60 + int64(minutes)
	if n := len(l.points); n > 0 {
		const dayLong = 24 * 60
		last := l.points[n-1].At
		at += last - last%dayLong
		if at <= last {
			at += dayLong
		}
	}
	return at, sayClock, nil
}

func sayHours(minute int64) string {
	return figure(math.Round(float64(minute)/0.6)/100) + " h after the start"
}

func sayClock(minute int64) string {
	const dayLong = 24 * 60
	text := day.MomentAt(minute, 0).Clock()
	if days := minute / dayLong; days > 0 {
		text += " on day " + strconv.FormatInt(days+1, 10)
	}
	return text
}

// readHours reads 0:19,4:17 as the tables write it: hours and degrees.
func readHours(text string) (airLog, error) {
	log := airLog{say: sayHours}
	for one := range strings.SplitSeq(text, ",") {
		hours, temp, ok := strings.Cut(one, ":")
		if !ok {
			return airLog{}, badf("%.40q is no point of a log: write %s", one, logForm)
		}
		at, err := inHours(hours)
		if err != nil {
			return airLog{}, err
		}
		t, err := degrees(temp)
		if err != nil {
			return airLog{}, err
		}
		log.points = append(log.points, trade.Point{At: at, Temp: t})
	}
	return log, nil
}

func inHours(text string) (minute int64, err error) {
	h, ok := decimal(text)
	if !ok || h > 1e6 {
		return 0, badf("%.40q is no number of hours", text)
	}
	return int64(math.Round(60 * h)), nil
}

// degrees reads 19C, 66F or, in °C, 19.
func degrees(text string) (trade.DeciCelsius, error) {
	k := Key{Name: "a temperature", Of: trade.Temperature, Unit: "C"}
	n, _, err := k.number(text)
	if err != nil {
		return 0, err
	}
	if math.Abs(n) > 1000 {
		return 0, &RangeError{Key: Key{Name: "temperature", Least: -40, Most: 80, Unit: "C"}, Value: text}
	}
	return trade.DeciCelsius(math.Round(10 * n)), nil
}

// readTable reads the table of a maker: 10C/48h,20C/12h,30C/8h.
func readTable(text string) (trade.CureTable, error) {
	var table trade.CureTable
	for one := range strings.SplitSeq(text, ",") {
		temp, hours, ok := strings.Cut(one, "/")
		if !ok {
			return nil, badf("%.40q is no row of a table: write %s", one, tableForm)
		}
		t, err := degrees(temp)
		if err != nil {
			return nil, err
		}
		h, known := decimal(strings.TrimSuffix(hours, "h"))
		if !known {
			return nil, badf("%.40q is no number of hours", hours)
		}
		table = append(table, trade.TableRow{Temp: t, Hours: h})
	}
	return table, nil
}

const tableForm = "10C/48h,20C/12h,30C/8h"
