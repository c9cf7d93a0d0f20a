// Package layers holds what a keeper writes down of a tank with a deep bed: the
// tank, its cores with their layers top to bottom, water tests and events, and
// the logbook document that carries them.
//
// # The logbook document
//
// A logbook document is one JSON object in UTF-8. Here is one with every field;
// those marked with an asterisk below must be there, all others may be left out.
// What is left out is not given, never guessed. null stands nowhere.
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
//	            {"thickness_mm": 12, "hex": "#8b5e3c", "edge": {"error_mm": 0.3, "highest_mm": 11, "lowest_mm": 13.2}},
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
// The document: format* is "panecore/1"; tanks* is a list, which may be empty.
//
// A tank: id*, its own among the tanks; name; set_up, a date; vessel; flow, one
// of still, livestock (moved by animals only), bubbled, pumped; burrowers and
// rooted_plants, true or false; native; limits, by the names and within the
// ranges of [LimitRules]; cores; water; events.
//
// A vessel, inside measures: shape*, box or cylinder; water_depth_mm*; length_mm*
// and width_mm* of a box, diameter_mm* of a cylinder. Each is 20 to 10000 mm.
//
// A native substrate, as it was laid: kind*, one of sand, gravel, clay, soil,
// granules; hex*; name; thickness_mm.
//
// A core: date*, not before the tank's set_up; station*, a marked place on the
// glass; layers*, top to bottom, one at least and 2000 mm together at most; lit,
// whether light reaches the glass there; signs, each once, of gas-bubbles,
// egg-smell, plant-melt, dead-animal, gasping, white-threads, roots-deep,
// burrowers; note; sure, true where the keeper was asked whether the core is right and
// said so; photo. A tank has one core of a station and date.
//
// A layer: thickness_mm*, above 0 and up to 2000; hex*, '#' and six hexadecimal
// digits; band, the keeper's own label, by a name of [palette.Band]; note; edge,
// its lower boundary as traced across the strip of a photo.
//
// A photo, which a core was read from, by what it leaves in doubt: colour_doubt*
// of each layer's colour by itself, 0 to 100 as a root-mean-square CIEDE2000
// difference; light*, which all the colours share; scale_error*, the standard error
// of the millimetres as a share of them, 0 to 1; surface*, the bed surface as an
// edge; sha256 of the picture's file, 64 hexadecimal digits in lower case, where it
// was kept; reliable, false where the layers may be other than told. Left out, sure
// is false and reliable true, and so they are written.
//
// A light, see [palette.Light]: ev*, -10 to 10 stops, and ev_doubt*, 0 to 10; veil*,
// -1 to 1, and veil_doubt*, 0 to 1.
//
// An edge, by depths down from the mean bed surface: error_mm*, the standard error
// of its mean depth, 0 to 2000; highest_mm* and lowest_mm*, the least and the
// greatest depth across the strip, -2000 to 2000.
//
// A water test: date*; time, HH:MM; ph, 4 to 11; temperature_c, 0 to 45;
// total_ammonia_mg_l, 0 to 50 mg N/L; oxygen_mg_l, 0 to 40.
//
// An event: date*; kind*, one of stir, siphon, water-change, top-up-substrate,
// replant, dead-animal, plant-melt, gasping, egg-smell, white-threads, note;
// share, of the floor or the water, 0 to 1; depth_mm, 0 to 2000; note.
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
