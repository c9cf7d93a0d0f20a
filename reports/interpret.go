package reports

import (
	"cmp"
	"iter"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"

	"panecore/layers"
	"panecore/palette"
)

// Settings steer how findings are made.
type Settings struct {
	Draws   int          // Monte Carlo draws a tank
	Seed    uint64       // the same seed gives the same findings
	AsOf    layers.Date  // zero: each tank's newest record of any kind
	History bool         // list every core, not just the newest of each station
	Units   layers.Units // of the lengths in sentences; numbers are always mm

	AltitudeM float64 // of the room above the sea, for the oxygen that air presses into water

	// Own gives the keeper's own prototypes for a tank by its id; nil: there are none.
	// It is called from several goroutines at once.
	Own func(id string) []palette.Prototype
}

// asOf is the day that a tank is judged as of.
func (s Settings) asOf(tank layers.Tank) layers.Date {
	if s.AsOf != 0 {
		return s.AsOf
	}
	return Newest(tank)
}

// Newest is the day of a tank's newest record of any kind; zero: it has none.
func Newest(tank layers.Tank) layers.Date {
	var newest layers.Date
	for _, core := range tank.Cores {
		newest = max(newest, core.Date)
	}
	for _, test := range tank.Water {
		newest = max(newest, test.Date)
	}
	for _, event := range tank.Events {
		newest = max(newest, event.Date)
	}
	return newest
}

func (s Settings) own(id string) []palette.Prototype {
	if s.Own == nil {
		return nil
	}
	return s.Own(id)
}

// The defaults of Settings.
const (
	DefaultDraws = 2000
	DefaultSeed  = 1
)

// DefaultSettings are the settings of who asks for nothing else.
func DefaultSettings() Settings { return Settings{Draws: DefaultDraws, Seed: DefaultSeed} }

// Interpret makes the findings of every tank, in the order of tanks; it works on
// several tanks at once while the sequence still runs.
func Interpret(tanks iter.Seq[layers.Tank], s Settings) Findings {
	type job struct {
		index int
		tank  layers.Tank
	}
	type result struct {
		index int
		tank  Tank
	}
	jobs, results := make(chan job), make(chan result)
	var workers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			var sim simulation
			for j := range jobs {
				results <- result{j.index, sim.interpret(j.tank, s)}
			}
		})
	}
	go func() {
		index := 0
		for tank := range tanks {
			jobs <- job{index, tank}
			index++
		}
		close(jobs)
		workers.Wait()
		close(results)
	}()
	var done []result
	for r := range results {
		done = append(done, r)
	}
	slices.SortFunc(done, func(a, b result) int { return cmp.Compare(a.index, b.index) })
	findings := Findings{Format: FindingsFormat, Tanks: make([]Tank, len(done))}
	for i, r := range done {
		findings.Tanks[i] = r.tank
	}
	return findings
}

// interpret makes one tank's findings.
func (sim *simulation) interpret(tank layers.Tank, s Settings) Tank {
	o, found := sim.judge(tank, s)
	if s.History {
		found.Cores = o.history(s)
	}
	return found
}

// judge makes one tank's findings from each station's newest core. What they stand on
// stays in the outlook and the simulation.
func (sim *simulation) judge(tank layers.Tank, s Settings) (*outlook, Tank) {
	o := newOutlook(tank, s)
	found := Tank{ID: tank.ID, Name: cmp.Or(tank.Name, tank.ID), AsOf: o.asOf, Cores: []Core{}}
	found.Watch, found.Questions = &Watch{Signs: []string{}}, []Question{}
	if len(o.newest) == 0 {
		return o, o.unread(found)
	}
	drawers := newDrawers(o.newest, o.tank.ID, s.Seed)
	o.chemistry, o.missing = newChemistry(o.tank, o.facts, s.AltitudeM, drawers)
	sim.run(o, drawers, s.Draws, s.Seed)
	for i, r := range o.newest {
		found.Cores = append(found.Cores, sim.cores[i].core(r))
	}
	o.mulm, o.oxic = sim.mulmDepth(), oxicDepth(sim.oxic, sim.basis)
	found.Mulm, found.OxicDepth = o.mulm.rounded(lengthDigits), o.oxic.rounded(lengthDigits)
	o.black = spread(sim.black)
	found.BlackZone = o.black.rounded(lengthDigits)
	found.BlackTop = blackTop(sim.top, s.Draws)
	if o.growth != nil {
		o.growth.grown(sim.growth)
		found.Accumulation = o.growth.rounded(rateDigits)
	}
	if o.shift != nil {
		found.FrontShift = o.shift.rounded(rateDigits)
	}
	if o.tests.ammonia.known() {
		o.ammonia = spread(sim.ammonia)
		o.ammonia.Basis = WaterTest
		found.Ammonia = o.ammonia.rounded(ammoniaDigits)
	}
	if o.chemistry != nil {
		o.tell(sim, &found)
	}
	found.LimitReached = o.forecast(sim)
	found.Advice = o.advice(&sim.verdict, found.LimitReached)
	o.never = map[Method]vetoed{MethodStir: o.vetoes(&sim.verdict, stirring), MethodSiphon: o.vetoes(&sim.verdict, siphoning)}
	found.Watch = o.watch(found.Advice.NextReading)
	found.Questions = o.questions(found.Advice)
	found.Notices = o.notices(found)
	return o, found
}

// unread is what can be said of a tank of which no core has been read: what its water says.
func (o *outlook) unread(found Tank) Tank {
	found.Notices = slices.Concat([]string{noCore}, o.tests.grave, o.tests.stale)
	if len(o.alarms()) > 0 {
		found.Advice = o.urgent()
		found.Watch = o.watch(found.Advice.NextReading)
		return found
	}
	found.Watch = o.watch(o.asOf)
	found.Notices = append(found.Notices, found.Watch.Signs...)
	if o.decay() || o.seen(layers.EggSmell) {
		steps := []string{"Trouble was noted: " + o.signs(append(decaySigns[:], layers.EggSmell)...) + ".", "Look at the animals and the water today.", aerate, testWater}
		if o.seen(layers.DeadAnimal, layers.PlantMelt, layers.WhiteThreads) {
			steps = append(steps, takeOut)
		}
		found.Notices = append(found.Notices, strings.Join(append(steps, "Keep hands out of the bed.", askAVet), " "))
	}
	return found
}

// tell gives the findings what the chemistry found.
func (o *outlook) tell(sim *simulation, found *Tank) {
	basis := o.chemistry.basis()
	penetration := spread(sim.penetration)
	o.bottom = spread(sim.bottom)
	penetration.Basis, o.bottom.Basis = basis, basis
	found.Penetration = penetration.rounded(lengthDigits)
	found.BottomOxygen = o.bottom.rounded(oxygenDigits)
	o.safe = safeShares{quantile(sim.stirShare, 0.05), quantile(sim.siphonShare, 0.05), quantile(sim.aeratedShare, 0.05)}
}

// mulmDepth is the tank's mulm; where nothing was seen below it, there may be more. The
// draws keep their order, in which each has its growth.
func (s *simulation) mulmDepth() Estimate {
	e := spread(slices.Clone(s.mulm))
	e.AtLeast = 2*s.toEnd > len(s.mulm)
	return e
}

// oxicDepth is a colour oxic depth with the basis that most draws stand on. Where a
// good part of them saw no front, it is a lower bound.
func oxicDepth(draws []float64, basis map[Basis]int) Estimate {
	e := spread(draws)
	var all int
	for _, b := range [...]Basis{RustFront, ReducedTop, NotReached} {
		all += basis[b]
		if e.Basis == "" || basis[b] > basis[e.Basis] {
			e.Basis = b
		}
	}
	e.AtLeast = 2*basis[NotReached] >= all
	return e
}

// blackTop is where the black zone begins, nil where most draws have none.
func blackTop(tops []float64, draws int) *Estimate {
	if 2*len(tops) < draws {
		return nil
	}
	return spread(tops).rounded(lengthDigits)
}

// core is what a station's newest reading comes to.
func (c *coreDraws) core(r *reading) Core {
	mulm := spread(c.mulm)
	mulm.AtLeast = 2*c.toEnd > len(c.mulm)
	core := Core{
		Station:   r.core.Station,
		Date:      r.core.Date,
		Layers:    r.layers(),
		Mulm:      mulm.rounded(lengthDigits),
		OxicDepth: oxicDepth(c.oxic, c.basis).rounded(lengthDigits),
		BlackTop:  blackTop(c.top, len(c.mulm)),
		BlackZone: spread(c.black).rounded(lengthDigits),
		Reliable:  !r.unreliable(),
		Signs:     r.core.Signs,
		Note:      r.core.Note,
	}
	if photo := r.core.Photo; photo != nil {
		surface := reliefOf(photo.Surface)
		core.Surface, core.Photo = &surface, photo.SHA256
	}
	return core
}

// leastAlternative is the least probability that another band is named with (assumption).
const leastAlternative = 0.01

// layers are the reading's layers with their names.
func (r *reading) layers() []Layer {
	list := make([]Layer, len(r.core.Layers))
	for i, layer := range r.core.Layers {
		half := z90 * math.Hypot(r.errors[i], r.errors[i+1])
		l := Layer{
			TopMM:        round(r.edges[i], lengthDigits),
			Thickness:    *Estimate{Value: layer.ThicknessMM, Low: max(0, layer.ThicknessMM-half), High: layer.ThicknessMM + half}.rounded(lengthDigits),
			Hex:          layer.Color,
			Band:         r.names[i],
			Probability:  round(r.match.Probability(i, r.names[i]), shareDigits),
			Labelled:     layer.Band != palette.NoBand,
			Alternatives: []Alternative{},
		}
		if layer.Edge != nil {
			edge := reliefOf(*layer.Edge)
			l.Edge = &edge
		}
		for _, band := range palette.Bands() {
			if p := r.match.Probability(i, band); band != l.Band && p >= leastAlternative {
				l.Alternatives = append(l.Alternatives, Alternative{band, round(p, shareDigits)})
			}
		}
		slices.SortStableFunc(l.Alternatives, func(a, b Alternative) int { return cmp.Compare(b.Probability, a.Probability) })
		list[i] = l
	}
	return list
}
