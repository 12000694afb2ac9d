package paper

import "evenload/sequence"

// footWord stands on every page.
const footWord = sequence.SiteFirst + " " + sequence.NotLoadWord
