package words

// Wrap joins words by a gap into lines that fit. A word that fits no line has one to itself.
func Wrap(list []string, gap string, fits func(line string) bool) (lines []string) {
	for _, word := range list {
		last := len(lines) - 1
		if last >= 0 && fits(lines[last]+gap+word) {
			lines[last] += gap + word
		} else {
			lines = append(lines, word)
		}
	}
	return lines
}
