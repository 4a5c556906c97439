package trial

import "thole/engine/table"

// Columns of a table of pieces, as ReadTrial gives it and Judge takes it. Those
// after time are optional; a blank cell is a piece without that reading.
//
//	piece     number in the order rowed
//	setting   name, text
//	distance  m
//	time      s
//	rate      1/min
//	wind      m/s, positive ahead
//	power     W
//	stream    m/s, positive with the boat
//	water     °C
//	way       text, "out" or "back"
//	remarks   text, kept, never judged
var pieceColumns = []table.Column{
	{Name: "piece", Digits: 0},
	{Name: "setting", Kind: table.Text},
	{Name: "distance", Unit: "m", Digits: 0, Change: 0},
	{Name: "time", Unit: "s", Digits: 1, Change: 2},
	{Name: "rate", Unit: "1/min", Digits: 1, Change: 1},
	{Name: "wind", Unit: "m/s", Digits: 1, Change: 1},
	{Name: "power", Unit: "W", Digits: 0, Change: 1},
	{Name: "stream", Unit: "m/s", Digits: 2, Change: 2},
	{Name: "water", Unit: "°C", Digits: 1, Change: 1},
	{Name: "way", Kind: table.Text},
	{Name: "remarks", Kind: table.Text},
}
