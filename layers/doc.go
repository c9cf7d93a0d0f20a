// Package layers holds what a keeper writes down of a tank with a deep bed: the
// tank, its cores with their layers top to bottom, water tests and events, and
// the logbook document that carries them.
//
// # The logbook document
//
// A logbook document is one JSON object in UTF-8. Here is one with every field. What is
// left out is not given, never guessed. null stands nowhere.
//
//	{
//	  "format": "panecore/1",
//	  "tanks": [
//	    {
//	      "id": "kettle",
//	      "name": "Kettle",
//	      "set_up": "2024-10-12",
//	      "vessel": {"shape": "box", "length_mm": 600, "width_mm": 300, "water_depth_mm": 280},
//	      "flow": "livestock",
//	      "burrowers": true,
//	      "rooted_plants": true,
//	      "native": [
//	        {"name": "pale sand", "kind": "sand", "hex": "#d9cba6", "thickness_mm": 60}
//	      ],
//	      "limits": {"mulm_mm": 50},
//	      "cores": [
//	        {
//	          "date": "2026-11-01",
//	          "station": "front",
//	          "lit": true,
//	          "signs": ["gas-bubbles"],
//	          "note": "after the weekend away",
//	          "sure": true,
//	          "photo": {"sha256": "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08", "colour_doubt": 4, "light": {"ev": 0.3, "ev_doubt": 0.4, "veil": 0.02, "veil_doubt": 0.02}, "scale_error": 0.004, "surface": {"error_mm": 0.2, "highest_mm": -1.1, "lowest_mm": 1.3}, "reliable": false},
//	          "layers": [
//	            {"thickness_mm": 12, "hex": "#8b5e3c", "edge": {"error_mm": 0.3, "highest_mm": 11, "lowest_mm": 13.2, "contrast": 0.31, "fineness": 0.6}},
//	            {"thickness_mm": 4, "hex": "#b4552a", "band": "rust", "note": "ragged"}
//	          ]
//	        }
//	      ],
//	      "water": [
//	        {"date": "2026-11-01", "time": "07:30", "ph": 7.4, "temperature_c": 24, "total_ammonia_mg_l": 0.25, "oxygen_mg_l": 5.1}
//	      ],
//	      "events": [
//	        {"date": "2026-09-02", "kind": "siphon", "share": 0.25, "depth_mm": 20, "note": "left half"}
//	      ]
//	    }
//	  ]
//	}
//
// What each field may hold, and whether it must be there, stands beside its record, in a
// table of a row a field: [Tank], [Vessel], [Native], [Core], [Photo], [Layer], [Edge],
// [WaterTest] and [Event]. What joins several fields:
//
//   - A tank's id is its own among the tanks. Its limits go by the names and ranges of [LimitRules].
//   - A box has length_mm and width_mm, a cylinder diameter_mm; each has water_depth_mm.
//   - A core is not older than its tank's set_up and the only one of its station and date. Its
//     layers are one at least, [MaxLayers] at most and 2000 mm together at most; each of its
//     signs stands once.
//   - A tank has at most [MaxStations] stations and [MaxNative] native substrates.
//   - An edge's depths count down from the mean bed surface: its highest is no more than its lowest.
//   - Left out, sure is false and reliable true, and so they are written.
//
// Dates are YYYY-MM-DD, from 1980-01-01 to the day of reading. An id, a name and
// a station have 1 to 80 characters without control characters and without
// blanks at the ends; a note has at most 4000, of which newline and tab are the
// only control characters.
//
// # Faults
//
// Nothing else is taken: a field not named here, or one named twice, is a fault
// as much as a value out of range. [Decode] lists the faults of a document, up to
// [MaxFaults], each on a line with its place, what was found and what is wanted:
//
//	tank "kettle", core front 2026-11-01, layers[1].thickness_mm: found -3, want a number above 0 and up to 2000 mm
//
// The numbers in brackets count from 0. What breaks the grammar of JSON is told
// last, with its line and column, because nothing after it can be made out. A
// document may have 128 MiB, and a single text in it 64 KiB.
//
// [Encode] writes a document in the form shown above, and always the same bytes
// for the same tanks.
package layers
