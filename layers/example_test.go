package layers_test

import (
	"fmt"
	"os"
	"strings"
	"time"

	"panecore/layers"
)

const document = `{"format": "panecore/1", "tanks": [{"id": "kettle", "cores": [
	{"date": "2026-11-01", "station": "front", "layers": [
		{"hex": "#8B5E3C", "thickness_mm": 12.0},
		{"hex": "#b4552a", "thickness_mm": 4, "band": "rust"}]}]}]}`

func Example() {
	today := layers.DateOf(time.Date(2026, time.November, 25, 12, 0, 0, 0, time.UTC))
	tanks, err := layers.Decode(strings.NewReader(document), today)
	if err != nil {
		fmt.Println(err)
		return
	}
	core := tanks[0].Cores[0]
	fmt.Println(core.Station, core.Date, core.DepthMM(), "mm")
	layers.Encode(os.Stdout, tanks)
	// Output:
	// front 2026-11-01 16 mm
	// {
	//   "format": "panecore/1",
	//   "tanks": [
	//     {
	//       "id": "kettle",
	//       "cores": [
	//         {
	//           "date": "2026-11-01",
	//           "station": "front",
	//           "layers": [
	//             {"thickness_mm": 12, "hex": "#8b5e3c"},
	//             {"thickness_mm": 4, "hex": "#b4552a", "band": "rust"}
	//           ]
	//         }
	//       ]
	//     }
	//   ]
	// }
}

func ExampleDecode_faults() {
	today := layers.DateOf(time.Date(2026, time.November, 25, 12, 0, 0, 0, time.UTC))
	_, err := layers.Decode(strings.NewReader(strings.ReplaceAll(document, "12.0", "-3")), today)
	fmt.Println(err)
	// Output:
	// tank "kettle", core front 2026-11-01, layers[0].thickness_mm: found -3, want a number above 0 and up to 2000 mm
}
