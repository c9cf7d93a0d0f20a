package forms

import (
	"fmt"
	"math"
	"strings"

	"panecore/layers"
)

func limitName(limit layers.Limit) string { return "limit_" + limit.Rule().Name }

// limitText is a limit as its field holds it: a share in hundredths, as events have them.
func limitText(limit layers.Limit, value float64) string {
	if limit == layers.LimitSiphonShare {
		value = math.Round(1e6*100*value) / 1e6 // as finely as one is typed
	}
	return plainNumber(value)
}

func limitUnit(limit layers.Limit) string {
	if limit == layers.LimitSiphonShare {
		return "% of the floor"
	}
	return limit.Rule().Unit
}

func parseLimit(limit layers.Limit) func(string) (float64, error) {
	parse := layers.ParseNumber
	if limit == layers.LimitSiphonShare {
		parse = layers.ParsePercentage
	}
	return func(text string) (float64, error) {
		value, err := parse(text)
		if rule := limit.Rule(); err == nil && (value < rule.Min || value > rule.Max) {
			err = fmt.Errorf("found %s, want %s to %s %s", text, limitText(limit, rule.Min), limitText(limit, rule.Max), limitUnit(limit))
		}
		return value, err
	}
}

func limitFields(f *Form) (list []field) {
	for i, rule := range layers.LimitRules() {
		limit := layers.Limit(i)
		list = append(list, f.field("tank", limitName(limit), strings.ToUpper(rule.Rule[:1])+rule.Rule[1:]).keys("decimal").
			hint(fmt.Sprintf("%s, %s to %s; else %s: %s", limitUnit(limit), limitText(limit, rule.Min), limitText(limit, rule.Max), limitText(limit, rule.Default), rule.Source)))
	}
	return list
}

// readLimits are the limits that were typed. One that was not changed keeps its exact value.
func readLimits(f *Form, former layers.Limits) (limits layers.Limits) {
	for i := range layers.LimitRules() {
		limit := layers.Limit(i)
		name := limitName(limit)
		if f.text(name) == "" {
			continue
		}
		if limits == nil {
			limits = layers.Limits{}
		}
		if was, own := former[limit]; own && f.text(name) == limitText(limit, was) {
			limits[limit] = was
		} else {
			limits[limit] = read(f, name, parseLimit(limit))
		}
	}
	return limits
}
