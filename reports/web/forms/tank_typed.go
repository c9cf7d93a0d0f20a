package forms

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"panecore/layers"
	"panecore/palette"
)

// readTank puts what was typed into a tank. What was not changed keeps its exact value.
func (s *Room) readTank(f *Form, tank layers.Tank) layers.Tank {
	readFields(f, &tank, tankFields(), s.Units)
	tank.Vessel = s.readVessel(f, tank.Vessel)
	tank.Native = s.readNative(f, tank.Native)
	tank.Limits = readLimits(f, tank.Limits)
	return tank
}

// tankFields are the fields of a tank that are each typed in one piece, but for its id.
func tankFields() []layers.Field[layers.Tank] {
	return slices.DeleteFunc(slices.Clone(layers.TankFields()), func(r layers.Field[layers.Tank]) bool { return r.Label == "" })
}

func (s *Room) readVessel(f *Form, former *layers.Vessel) *layers.Vessel {
	if former == nil {
		former = &layers.Vessel{}
	}
	v := layers.Vessel{Shape: read(f, "shape", chosen([]layers.Shape{layers.Box, layers.Cylinder}))}
	switch v.Shape {
	case "":
		return nil
	case layers.Box:
		v.LengthMM = f.size("length", s.Units, former.LengthMM)
		v.WidthMM = f.size("width", s.Units, former.WidthMM)
	case layers.Cylinder:
		v.DiameterMM = f.size("diameter", s.Units, former.DiameterMM)
	}
	v.WaterDepthMM = f.size("water_depth", s.Units, former.WaterDepthMM)
	return &v
}

// size reads a length that must be there.
func (f *Form) size(name string, u layers.Units, was float64) float64 {
	f.want(name, "a length, as in 600"+u.String())
	if was != 0 && f.text(name) == lengthText(u, was) {
		return was
	}
	return read(f, name, inUnit(u, layers.ParseSize))
}

// emptyNative reports whether nothing was typed into a row of substrates.
func (f *Form) emptyNative(i int) bool {
	names := []string{"native_hex", "native_kind", "native_thickness", "native_name"}
	return !slices.ContainsFunc(names, func(name string) bool { return tidy(f.nth(i, name, "").Value) != "" })
}

// readNative reads the rows of substrates in which anything was typed.
func (s *Room) readNative(f *Form, former []layers.Native) (list []layers.Native) {
	rows := len(f.typed["native_hex"])
	if rows > mostNative {
		f.rest, f.status = append(f.rest, fmt.Sprintf("found %d substrates, want at most %d", rows, mostNative)), http.StatusUnprocessableEntity
		return nil
	}
	for i := range rows {
		cell := func(name string) string { return tidy(f.nth(i, name, "").Value) }
		if f.emptyNative(i) {
			continue
		}
		n := layers.Native{Name: cell("native_name")}
		var err error
		n.Color, err = palette.ParseColor(cell("native_hex"))
		f.complain(nthName("native_hex", i), err)
		n.Kind, err = chosen(layers.Kinds())(cell("native_kind"))
		f.complain(nthName("native_kind", i), err)
		if n.Name != "" {
			_, err = layers.ParseName(n.Name)
			f.complain(nthName("native_name", i), err)
		}
		switch text := cell("native_thickness"); {
		case text == "":
		case i < len(former) && text == lengthText(s.Units, former[i].ThicknessMM):
			n.ThicknessMM = former[i].ThicknessMM
		default:
			n.ThicknessMM, err = inUnit(s.Units, layers.ParseSize)(text)
			f.complain(nthName("native_thickness", i), err)
		}
		list = append(list, n)
	}
	return list
}

func tankField(path string) string {
	if path == "id" {
		return path
	}
	if measure, ok := strings.CutPrefix(path, "vessel."); ok {
		return strings.TrimSuffix(measure, "_mm")
	}
	return keyAt(tankFields())(path)
}
