package devices

import "strings"

// nameOf says in plain words what a browser calls itself in its User-Agent header (RFC 9110,
// 10.1.5), such as "Android phone, Firefox". Browsers also give the names of others, so that the
// order of the rows decides.
func nameOf(agent string) string {
	kind := firstIn(agent, "device", []naming{
		{"iPhone", "iPhone"}, {"iPad", "iPad"}, {"Android", "Android tablet"}, {"Windows", "Windows computer"},
		{"CrOS", "Chromebook"}, {"Macintosh", "Mac"}, {"Linux", "Linux computer"},
	})
	if kind == "Android tablet" && strings.Contains(agent, "Mobile") {
		kind = "Android phone"
	}
	if browser := firstIn(agent, "", []naming{
		{"Edg", "Edge"}, {"OPR/", "Opera"}, {"SamsungBrowser", "Samsung Internet"}, {"Firefox", "Firefox"}, {"FxiOS", "Firefox"},
		{"CriOS", "Chrome"}, {"Chrome", "Chrome"}, {"Safari", "Safari"},
	}); browser != "" {
		return kind + ", " + browser
	}
	return kind
}

type naming struct{ sign, name string }

func firstIn(agent, other string, list []naming) string {
	for _, n := range list {
		if strings.Contains(agent, n.sign) {
			return n.name
		}
	}
	return other
}
