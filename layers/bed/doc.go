// Package bed holds the physics of a bed and of the water above it as pure
// functions of numbers. Nothing here knows of tanks, documents or colours.
//
// Units: °C, pH, mg/L; total ammonia is mg N/L. Formulas carry their source,
// constants their unit and where they come from.
package bed
