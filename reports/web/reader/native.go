package reader

import (
	"errors"
	"fmt"
	"net/http"

	"panecore/layers"
	"panecore/reports/web/site"
	"panecore/reports/words"
)

// nativeRequest says that a layer of a photo is the substrate as laid.
type nativeRequest struct {
	readRequest
	Layer  int    `json:"layer"`  // from 0 at the top
	Answer string `json:"answer"` // to the question: a kind of substrate, or replaceNative; empty: none yet
}

// replaceNative is the answer that puts a layer's colour in the place of the tank's.
const replaceNative = "replace"

// nativeQuestion is what to ask before a tank's substrate is set.
type nativeQuestion struct {
	Text    string       `json:"question"`
	Answers []saveAnswer `json:"answers"`
}

// native makes a layer's colour that of the tank's substrate as laid.
func (s *room) native(w http.ResponseWriter, r *http.Request) error {
	photo, err := s.drafts.find(r.PathValue("draft"))
	if err != nil {
		return err
	}
	q, err := takeRequest[nativeRequest](w, r)
	if err != nil {
		return refused(w, err)
	}
	if err := q.missing(); err != nil {
		return refused(w, err)
	}
	task, err := s.task(r.Context(), &q.readRequest)
	if err != nil {
		return refused(w, err)
	}
	said, question := "", (*nativeQuestion)(nil)
	err = s.readDraft(r.Context(), photo, task, func(result Result, _ Shot) error {
		if q.Layer < 0 || q.Layer >= len(result.Core.Layers) || result.Photo.Correction.Cards == 0 {
			return site.WithKind(site.ErrInput, errors.New("found no grey card to go by, want one: without it the colour is the camera's own; mark a card, or type the colour on the tank's page"))
		}
		tank := task.Tank
		if tank.Native, question = q.laid(tank, result.Core.Layers[q.Layer]); question != nil {
			return nil
		}
		said = fmt.Sprintf("The substrate of %s as laid is now %s. “Undo” at the top of the next page takes it back.",
			words.TankName(tank.ID, tank.Name), tank.Native[0].Color)
		return s.Store.EditTank(r.Context(), tank)
	})
	switch {
	case err != nil:
		return refused(w, err)
	case question != nil:
		site.WriteJSON(w, http.StatusConflict, question)
		return nil
	}
	site.WriteJSON(w, http.StatusOK, map[string]string{"said": said})
	return nil
}

// laid is a tank's substrate with the colour of a layer, or what to ask first: what it is, or whether it takes the place of
// the one that is noted, which keeps its name and kind.
func (q *nativeRequest) laid(tank layers.Tank, layer layers.Layer) ([]layers.Native, *nativeQuestion) {
	switch {
	case len(tank.Native) == 1 && q.Answer == replaceNative:
		laid := tank.Native[0]
		laid.Color = layer.Color
		return []layers.Native{laid}, nil
	case len(tank.Native) == 1:
		return nil, &nativeQuestion{
			fmt.Sprintf("The tank's substrate as laid is noted as %s. Is it %s, as this layer is?", tank.Native[0].Color, layer.Color),
			[]saveAnswer{{replaceNative, "Yes, put that in its place"}},
		}
	case len(tank.Native) > 1:
		return nil, &nativeQuestion{Text: "The tank has more than one substrate: change its colours on the tank's page."}
	}
	asks := &nativeQuestion{Text: fmt.Sprintf("What is the substrate that looks like this, %s?", layer.Color)}
	for _, kind := range layers.Kinds() {
		if q.Answer == string(kind) {
			return []layers.Native{{Kind: kind, Color: layer.Color}}, nil
		}
		asks.Answers = append(asks.Answers, saveAnswer{string(kind), string(kind)})
	}
	return nil, asks
}
