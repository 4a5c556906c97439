package table_test

import (
	"fmt"
	"log"
	"os"

	"thole/engine/table"
)

// A file as a spreadsheet leaves it, with its own units and decimal commas, is read in
// the units asked for and written back.
func Example() {
	const file = "Blade;length (m);area (dm2)\nold;2,88;8,1\nnew;2,865;8,25\n"
	t, notes, err := table.ReadCSV("blades.csv", []byte(file), []string{"blade", "length (cm)", "area (cm2)"},
		nil, "")
	if err != nil {
		log.Fatal(err)
	}
	for _, note := range notes {
		fmt.Println("note:", note)
	}
	if err := table.WriteCSV(os.Stdout, t); err != nil {
		log.Fatal(err)
	}
	length := t.Column("length")
	fmt.Println(length.Nums[0], length.Unit, "and as a table shows it:", length.Shown()[1])
	// Output:
	// note: read with ; between columns and decimal commas (2,88 is 2.88)
	// note: length: 2.88 m is 288 cm
	// note: area: 8.1 dm² is 810 cm²
	// blade,length (cm),area (cm²)
	// old,288,810
	// new,286.5,825
	// 288 cm and as a table shows it: 286.5
}
