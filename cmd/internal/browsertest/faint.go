package browsertest

// faintLetters are the texts of a page's pictures that stand out less than they should
// from what is drawn below them, some of each picture: the contrast of WCAG 2.2, 1.4.3,
// is 4.5 and more for letters of this size. axe looks at no letters within pictures.
const faintLetters = `(() => {
	const canvas = new OffscreenCanvas(1, 1).getContext("2d", {willReadFrequently: true})
	const colors = new Map()
	const color = css => {
		if (!colors.has(css)) {
			canvas.clearRect(0, 0, 1, 1)
			canvas.fillStyle = css
			canvas.fillRect(0, 0, 1, 1)
			const [r, g, b, a] = canvas.getImageData(0, 0, 1, 1).data
			colors.set(css, [r, g, b, a / 255])
		}
		return colors.get(css)
	}
	const ink = e => {
		const s = getComputedStyle(e)
		if (s.fill == "none") return null
		const [r, g, b, a] = color(s.fill)
		return [r, g, b, a * s.fillOpacity * s.opacity]
	}
	const over = (top, below) => [0, 1, 2].map(i => top[i] * top[3] + below[i] * (1 - top[3]))
	const ground = e => {
		for (; e; e = e.parentElement) {
			const c = color(getComputedStyle(e).backgroundColor)
			if (c[3] == 1) return c
		}
		return [255, 255, 255]
	}
	const luminance = c => {
		const [r, g, b] = c.map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
		return 0.2126 * r + 0.7152 * g + 0.0722 * b
	}
	const contrast = (a, b) => (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05)
	const faint = []
	for (const picture of document.querySelectorAll("svg")) {
		const paper = ground(picture), drawn = [], here = []
		for (const e of picture.querySelectorAll("rect, path, text")) {
			const filled = ink(e)
			if (!filled) continue
			if (e.localName != "text") {
				drawn.push([e, filled])
				continue
			}
			const box = e.getBBox()
			const least = Math.min(...[0.05, 0.5, 0.95].map(share => {
				const at = new DOMPoint(box.x + share * box.width, box.y + box.height / 2)
				const below = drawn.reduce((c, [shape, filled]) => shape.isPointInFill(at) ? over(filled, c) : c, paper.slice(0, 3))
				return contrast(luminance(over(filled, below)), luminance(below))
			}))
			if (least < 4.5) here.push("“" + e.textContent + "” " + least.toFixed(1))
		}
		if (here.length) faint.push("in the picture “" + picture.querySelector("title").textContent + "” " + here.length + ": " + here.slice(0, 5).join(", "))
	}
	return faint
})()`
