// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Works that the helps name, by their keys in data/sources.toml.

export const kSources: Record<string, string> = {
  'appelo-2015': 'Appelo 2015, databases for waters of high salinity',
  'burton-walter-1987': 'Burton and Walter 1987, growth of aragonite and calcite from seawater',
  'caking-review-2017': 'Chen and others 2017, a review of caking',
  'ciaaw-2021': 'IUPAC 2021, standard atomic weights',
  'clegg-2023': 'Clegg and others 2023, chemical speciation with propagated uncertainty',
  'culkin-smith-1980': 'Culkin and Smith 1980, conductivity of the potassium chloride standard',
  'greenspan-1977': 'Greenspan 1977, humidity over saturated solutions',
  'harvie-1984': 'Harvie, Moller and Weare 1984, mineral solubilities in natural waters',
  'ilac-g8-2019': 'ILAC G8 2019, decision rules and statements of conformity',
  'jcgm-100': 'JCGM 100 2008, guide to the expression of uncertainty in measurement',
  'jcgm-101': 'JCGM 101 2008, propagation of distributions by random draws',
  'jcgm-106': 'JCGM 106 2012, uncertainty in conformity assessment',
  'jullien-1992': 'Jullien, Meakin and Pavlovitch 1992, sorting by size in a shaken bed',
  'levins-glastonbury-1972': 'Levins and Glastonbury 1972, mass transfer in a stirred vessel',
  'millard-seaver-1990': 'Millard and Seaver 1990, index of refraction of seawater',
  'millero-2008': 'Millero and others 2008, composition of Standard Seawater',
  'millero-poisson-1981': 'Millero and Poisson 1981, equation of state of seawater',
  'moras-2022': 'Moras and others 2022, runaway precipitation of calcium carbonate',
  'plummer-1988': 'Plummer and others 1988, ion interaction in brines',
  'pratt-2001': 'Pratt and others 2001, standards of electrolytic conductivity',
  'romanek-2011': 'Romanek and others 2011, kinetics of aragonite',
  'saltelli-2010': 'Saltelli and others 2010, shares of the variance by random draws',
  'teos10-manual-2010': 'IOC, SCOR and IAPSO 2010, thermodynamic equation of seawater',
  'thompson-2006-harmonized': 'Thompson, Ellison and Wood 2006, proficiency testing of laboratories',
};
