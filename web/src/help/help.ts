// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What the help of each page says: what the page is for, how it is used, its keys, and where its numbers come from.
// A page without an entry of its own has that of its area. `sources` are keys of data/sources.toml.

export interface Help {
  what: string;
  steps: string[];
  keys?: Array<[string, string]>;
  numbers?: string[];
  sources?: string[];
}

/** Keys that work on every page. */
export const kKeys: Array<[string, string]> = [
  ['F1', 'this help; Esc closes it'],
  ['/', 'to the box that finds any number or name'],
  ['Tab, Shift+Tab', 'to the next or the previous field, button or link'],
  ['Enter', 'presses the button or follows the link that is framed'],
];
const kForm: [string, string] = ['Ctrl+Enter', 'sends the form that is being filled in'];
const kChart: [string, string] = ['Arrow keys on a chart', 'walk over its points and say their values; Home and End go to its ends'];
const kColumn: [string, string] = ['Enter, Shift+Enter in a table of fields', 'to the field below or above; Esc takes back what was typed'];
const kUncertain = 'After ± stands the standard uncertainty; uncertainties are put together as the guide to the expression of uncertainty says.';
const kBooks = 'Figures of lots, batches, results and decisions are those of the books, as they were entered, with who entered them on the trail.';
const kModel = 'Activities, saturation and pH come from the ion interaction model, with the limits of trust that stand beside each.';

const kAreas: Record<string, Help> = {
  today: {
    what: 'What waits for somebody, what is late and what is unusual, over all the works. What is yours to do stands first.',
    steps: ['Follow a line to the page where it is done.', 'What is late has stood longer than its kind usually does.'],
    numbers: [kBooks],
  },
  waters: {
    what: 'Target waters, and any water beside natural seawater or beside another: what it holds, its ratios, its saturation and properties.',
    steps: ['Choose two waters; the difference of each figure stands beside them.', 'A target water is changed on the recipe workbench, which is reached from its line.'],
    keys: [kChart],
    numbers: [kModel, 'Natural seawater has the reference composition, scaled to the salinity; density and conductivity have equations of their own.'],
    sources: ['millero-2008', 'teos10-manual-2010', 'harvie-1984', 'clegg-2023'],
  },
  materials: {
    what: 'Materials with their assay and impurities, suppliers, and the lots that were received, with what is left of each.',
    steps: ['Receive a lot with its certificate; it can be weighed once it is accepted.', 'A material that is kept again has a new version; recipes hold the version they were solved with.'],
    keys: [kForm],
    numbers: [kBooks, 'Assays are those of the certificate or the catalogue; shares of elements follow from the formula and the standard atomic weights.'],
    sources: ['ciaaw-2021'],
  },
  recipes: {
    what: 'Recipe versions, and the ways to the workbench, the vat, the dry bag, the scoops and the instruments.',
    steps: ['A draft of the workbench is kept as a version, offered, and approved for use by somebody else.', 'Open a version to see its water, its trail and what was made by it.'],
    numbers: [kBooks],
  },
  batches: {
    what: 'Batches from the plan to the sample: sheet, weighing, blending, yield and departures.',
    steps: ['A batch is planned from a recipe version and the lots in hand; its sheet follows from that.', 'The next act of a batch stands on its page, with whose duty it is.'],
    keys: [kForm],
    numbers: [kBooks, 'Masses on the sheet lie on the steps of the scale they are weighed on; tolerances follow from the scale. A line below 1 kg is written in g, else in kg, everywhere with the decimals of its scale.'],
  },
  tests: {
    what: 'Samples, test portions, runs of results and their check, and trend charts.',
    steps: ['Results belong to test portions of a sample, entered by hand or read from a table.', 'A run is checked by another person before it counts.'],
    keys: [kForm, kColumn, kChart],
    numbers: [kBooks, kUncertain],
    sources: ['jcgm-100', 'thompson-2006-harmonized'],
  },
  release: {
    what: 'The evidence on each batch against its limits, the decision, and the papers that go with a released batch.',
    steps: ['Read what is unusual first, then the results against limits.', 'A decision is signed with the password; it rests on the evidence as it was shown.'],
    numbers: [kBooks, 'A result is judged with its uncertainty by the decision rule that stands under the table.'],
    sources: ['jcgm-106', 'ilac-g8-2019'],
  },
  '': {
    what: 'Records of the books by number, kind and time.',
    steps: ['Every record has an address of its own that can be sent to somebody else.'],
    numbers: [kBooks],
  },
};

const kPages: Record<string, Help> = {
  '/recipes/workbench': {
    what: 'From a target water and materials to a recipe. Each change is solved again at once: first quickly with free shares, then whole, with weighing steps and other recipes.',
    steps: [
      'Change a target, a band, a ratio or a ceiling in the table; with a target its band moves along.',
      'Put materials off or change their price in the recipe; nothing is written to the books.',
      'With a limit on the finished water, the curve below shows how much alkalinity it leaves at each calcium.',
      'Solve the draft for the lots in hand, lay it beside a version, and keep it as a version with a reason.',
    ],
    keys: [['Ctrl+Z, Ctrl+Y', 'takes back the last change, or does it again; both outlast a reload of the page'], kColumn, kChart],
    numbers: ['The recipe of least cost within all bands, found by linear and mixed-integer programs whose answer is checked by code of its own.', kModel, 'Chances come from draws of all assays and impurities at once.'],
    sources: ['ciaaw-2021', 'millero-2008', 'jcgm-101'],
  },
  '/recipes/vat': {
    what: 'How a recipe dissolves, ways of making it side by side, what to weigh for a vat, how to correct one, and what waters come to that are mixed.',
    steps: ['Choose the recipe and the view.', 'What is left empty is taken as its hint says.', 'A verdict stands first; pictures and tables say why.'],
    keys: [kChart],
    numbers: [kModel, 'Growth of calcium carbonate follows published rates, each within the factor that stands beside it; density follows the equation of state of seawater.', kUncertain],
    sources: ['burton-walter-1987', 'romanek-2011', 'moras-2022', 'levins-glastonbury-1972', 'millero-poisson-1981'],
  },
  '/recipes/bag': {
    what: 'Whether the weighed salts of a recipe can lie together in a bag until they are dissolved: what wets what, how much water comes, and what to change.',
    steps: ['Say how humid the air is where it is filled, how long the bag lies, and what passes its film.', 'The lowest humidity decides: of two salts that touch, or of one alone.', 'What to do stands under the verdict, with what each rests on.'],
    numbers: ['Humidities over single salts are published; over two that touch they are worked out by the model, or published ranges where calcium chloride is among them.', 'No rate is known for what reacts in a wet bag, so losses are shown and none is foretold.'],
    sources: ['greenspan-1977', 'appelo-2015', 'plummer-1988', 'caking-review-2017'],
  },
  '/recipes/scoops': {
    what: "How much portions of a recipe's blend differ, by chance and after a container has layered, and where errors come from between the lots and the user's water.",
    steps: [
      'Say what portions are dissolved at once, from what container, and what each constituent should keep within.',
      'The verdict is of the smallest portion; remedies stand under the table, each enough alone.',
      'Draw the budget to see which step brings how much of the variance, and the way to the promise. It may be called off.',
    ],
    keys: [kChart],
    numbers: [
      'Scatter is the first-order sum over the grains of each material, from the stated sizes and densities; bounds are what the sizes leave open.',
      'Layers are bounds and no forecast. Shares of the variance are drawn, with the estimators of a published design.',
    ],
    sources: ['jullien-1992', 'saltelli-2010', 'jcgm-101'],
  },
  '/recipes/instruments': {
    what: 'From any reading to true salinity and back, for the salt at hand; and fluids to set an instrument with.',
    steps: ['Give readings with their temperature; several are laid beside one another, and what contradicts is named.', 'A calibration fluid is weighed as its view says.'],
    numbers: ['Conductivity, density and refractive index of seawater, moved to this salt by its composition.', kUncertain],
    sources: ['culkin-smith-1980', 'millero-poisson-1981', 'millard-seaver-1990', 'pratt-2001'],
  },
  '/recipes/:id*': {
    what: 'One recipe version: what it holds, who drafted and approved it, the water it makes, and its trail.',
    steps: ['Its target can be opened on the workbench; the version itself is never changed.', 'Approving is signed with the password, by another person than the one who drafted it.'],
    keys: [kForm],
    numbers: ['Shares and water are those that were kept with the version, with the program and the data it was solved with.'],
    sources: ['ciaaw-2021', 'millero-2008'],
  },
  '/batches/:id': {
    what: 'One batch: its state, the next act with whose duty it is, weighings, departures, yield, and where its lots come from.',
    steps: ['Do the next act at the head of the page.', 'Raise a departure as soon as something went another way than the sheet says; where more went in than the tolerance allows, the page asks for it before the blending.', 'A weighing is corrected with a reason; the first figure stays on the trail.'],
    keys: [kForm],
    numbers: [kBooks, 'The predicted water follows from the masses on the sheet and the certificates of the lots.'],
  },
  '/batches/:id/sheet': {
    what: 'The batch sheet on screen and for printing: every step in its order, each premix where it is made, with all its stages.',
    steps: ['Work from top to bottom; a premix is finished before the blender goes on.', 'Print it with the browser, with boxes to fill in by hand, or take the PDF, which bears its trail mark.', 'When the server is away, the sheet stands as it was read last and says so.'],
    numbers: ['Small portions are spread in stages that about double what is in the vessel. The order keeps what draws water, and what reacts with carbonates, for the end. Both are common practice.'],
  },
  '/batches/:id/weigh': {
    what: 'One addition at a time: its lot, its mass, and what is already in.',
    steps: [
      'Scan or type the lot on the bag; only the right one opens the mass.',
      'Type the net mass as the scale shows it. The bar says how far it is from the target.',
      'A part that falls short is recorded as a part; the rest follows. A mass of less than a tenth or more than ten times of what is wanted is asked about first: it is more often a wrong unit.',
      'When the server is away, go on: what you record is kept in this browser, also after a reload, and is sent once the server answers.',
    ],
    keys: [['Enter after the lot', 'to the mass'], ['Enter after the mass', 'records it, when it can be recorded']],
    numbers: ['Target and tolerance are those of the sheet. Masses are added up digit by digit, as the server does.'],
  },
  '/tests/enter': {
    what: 'Results of one method by hand: a row for each test portion, a column for each element.',
    steps: ['Choose batch and method, type or paste from a spreadsheet, look through, save.', 'What was typed stays in this browser until it is saved.'],
    keys: [kColumn, ['Ctrl+V', 'pastes a block of cells from a spreadsheet']],
    numbers: [kBooks],
  },
  '/release/:id': {
    what: 'All the evidence on one batch: what is unusual, results against limits, what their pattern shows, the decision and the papers.',
    steps: ['What is open must be closed before the batch can be released.', 'The decision names the evidence by its content mark; if something changed since, it is asked again.'],
    keys: [kForm],
    numbers: ['A result is judged with its uncertainty by the decision rule under the table.', 'What the pattern shows is found by laying the results beside what each mistake would do; it is a hint and no proof.'],
    sources: ['jcgm-106', 'ilac-g8-2019', 'jcgm-100'],
  },
};

export function helpFor(path: string, area: string): Help {
  return kPages[path] ?? kAreas[area] ?? kAreas['']!;
}
export const kHelps = kPages;
