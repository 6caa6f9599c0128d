/** What each figure's source key stands for, and how much of it was seen when the figure was taken. */
export const SOURCES = {
  FAO471: {
    cite: 'Helm MM, Bourne N, Lovatelli A (comp./ed.) 2004. Hatchery culture of bivalves: a practical manual. FAO Fisheries Technical Paper 471, Rome, 177 pp.',
    seen: "section excerpts of a stored copy: 1.2.2, 4.1.1, 4.1.3, 4.2.4.1, 5.1.1, 5.1.3 (part), 5.1.4, 5.1.5, 5.4.1, 5.4.3, 6.1, 6.3.4, 6.4.1, 6.5.1, 6.5.5, 6.6, 6.6.2; 5.1.3 only as untitled sentences recognised as this manual's; the tables themselves were not seen",
  },
  FAO492: {
    cite: 'Sarkis S, Lovatelli A (ed.) 2007. Installation and operation of a modular bivalve hatchery. FAO Fisheries Technical Paper 492, Rome.',
    seen: 'title pages and two section excerpts only',
  },
  MAFF68: {
    cite: 'Utting SD, Spencer BE 1991. The hatchery culture of bivalve mollusc larvae and juveniles. MAFF Laboratory Leaflet 68, Lowestoft, 31 pp.',
    seen: 'contents list only',
  },
  LD63: {
    cite: 'Loosanoff VL, Davis HC 1963. Rearing of bivalve mollusks. Advances in Marine Biology 1:1-136.',
    seen: 'no',
  },
  CD70: {
    cite: 'Calabrese A, Davis HC 1970. Tolerances and requirements of embryos and larvae of bivalve molluscs. Helgolaender wiss. Meeresunters. 20:553-564.',
    seen: 'abstract only (no figures in it)',
  },
  SRAC4301: {
    cite: 'Hadley NH, Whetstone JM 2007. Hard clam hatchery and nursery production. Southern Regional Aquaculture Center Publication 4301.',
    seen: 'first page',
  },
  SRAC433: {
    cite: 'Whetstone JM, Sturmer LN, Oesterling MJ 2005. Biology and culture of the hard clam. Southern Regional Aquaculture Center Publication 433.',
    seen: 'first page',
  },
  SRAC4302: {
    cite: 'Wallace RK, Waters P, Rikard FS 2008. Oyster hatchery techniques. Southern Regional Aquaculture Center Publication 4302.',
    seen: 'first page and quoted passages',
  },
  PILLAY: {
    cite: 'Pillay TVR, Kutty MN 2005. Aquaculture: principles and practices (clams chapter). Blackwell.',
    seen: 'the passage on hatchery production of clams',
  },
  EVERSOLE87: {
    cite: 'Eversole AG 1987. Species profiles: life histories and environmental requirements of coastal fishes and invertebrates (South Atlantic): hard clam. US Fish and Wildlife Service Biological Report 82(11.75), TR EL-82-4.',
    seen: 'abstract',
  },
  TALMAGE11: {
    cite: 'Talmage SC, Gobler CJ 2011. Effects of elevated temperature and carbon dioxide on the growth and survival of larvae and juveniles of three species of northwest Atlantic bivalves. PLoS ONE 6:e26941.',
    seen: 'abstract',
  },
  GOBLER14: {
    cite: 'Gobler CJ, DePasquale EL, Griffith AW, Baumann H 2014. Hypoxia and acidification have additive and synergistic negative effects on the growth, survival, and metamorphosis of early life stage bivalves. PLoS ONE 9:e83648.',
    seen: 'abstract (author names from memory)',
  },
  WIDDOWS89: {
    cite: 'Widdows J, Newell RIE, Mann R 1989. Effects of hypoxia and anoxia on survival, energy metabolism, and feeding of oyster larvae (Crassostrea virginica). Biological Bulletin 177:154-166.',
    seen: 'abstract (authors, year and pages from memory)',
  },
  BAKER92: {
    cite: 'Baker SM, Mann R 1992. Effects of hypoxia and anoxia on larval settlement, juvenile growth, and juvenile survival of the oyster Crassostrea virginica. Biological Bulletin 182:265-269.',
    seen: 'abstract',
  },
  MORRISON71: {
    cite: 'Morrison G 1971. Dissolved oxygen requirements for embryonic and larval development of the hardshell clam, Mercenaria mercenaria. J. Fish. Res. Board Can. 28:379-381.',
    seen: 'no',
  },
  LI19: {
    cite: 'Li Q, Sun S, Zhang F, Wang M, Li M 2019. Effects of hypoxia on survival, behavior, metabolism and cellular damage of Manila clam (Ruditapes philippinarum). PLoS ONE 14:e0215158.',
    seen: 'abstract',
  },
  VSD11: {
    cite: 'Vaquer-Sunyer R, Duarte CM 2011. Temperature effects on oxygen thresholds for hypoxia in marine benthic organisms. Global Change Biology 17:1788-1797.',
    seen: 'abstract (second author, volume and pages from memory)',
  },
  WRIGHT83: {
    cite: 'Wright DA, Kennedy VS, Roosenburg WH, Castagna M, Mihursky JA 1983. Temperature tolerance of embryos and larvae of five bivalve species under simulated power plant entrainment conditions: a synthesis. Marine Biology 77:271-278.',
    seen: 'abstract (author list and volume from memory)',
  },
  WRIGHT84: {
    cite: 'Wright DA, Roosenburg WH, Castagna M 1984. Thermal tolerance of embryos and larvae of the bay scallop Argopecten irradians under simulated power-plant entrainment conditions. Marine Ecology Progress Series 14:269-273.',
    seen: 'abstract (author list from memory)',
  },
  TR81: {
    cite: 'Tettelbach ST, Rhodes EW 1981. Combined effects of temperature and salinity on embryos and larvae of the northern bay scallop Argopecten irradians irradians. Marine Biology 63:249-256.',
    seen: 'no',
  },
  ISONO98: {
    cite: 'Isono RS, Kita J, Kishida C 1998. Upper temperature effect on rates of growth and oxygen consumption of the Japanese littleneck clam, Ruditapes philippinarum. Nippon Suisan Gakkaishi 64:373-376.',
    seen: 'abstract (author names from memory)',
  },
  MACHO16: {
    cite: 'Macho G, Woodin SA, Wethey DS, Vazquez E 2016. Impacts of sublethal and lethal high temperatures on clams exploited in European fisheries. J. Shellfish Research 35:405-419.',
    seen: 'abstract',
  },
  TEZUKA13: {
    cite: 'Tezuka N et al. 2013. Effect of salinity and substrate grain size on larval settlement of the asari clam (Manila clam, Ruditapes philippinarum). J. Exp. Mar. Biol. Ecol. 439:108-112.',
    seen: 'abstract (authors and volume from memory)',
  },
  CHAVEZ02: {
    cite: 'Chavez-Villalba J, Pommier J, Andriamiseza J, Pouvreau S, Barret J, Cochard J-C, Le Pennec M 2002. Broodstock conditioning of the oyster Crassostrea gigas: origin and temperature effect. Aquaculture 214:115-130.',
    seen: 'abstract',
  },
  MANN79: {
    cite: 'Mann R 1979. Some biochemical and physiological aspects of growth and gametogenesis in Crassostrea gigas and Ostrea edulis grown at sustained elevated temperatures. J. Mar. Biol. Ass. UK 59:95-110.',
    seen: 'no',
  },
  HENDERSON83: {
    cite: 'Henderson BA 1983. Handling and remote setting techniques for Pacific oyster larvae Crassostrea gigas. MSc thesis, Oregon State University.',
    seen: 'abstract',
  },
  BAKER94: {
    cite: 'Baker P 1994. Competency to settle in oyster larvae, Crassostrea virginica: wild versus hatchery-reared larvae. Aquaculture 122:161-169.',
    seen: 'abstract',
  },
  BOUGRIER95: {
    cite: 'Bougrier S, Geairon P, Deslous-Paoli JM, Bacher C, Jonquieres G 1995. Allometric relationships and effects of temperature on clearance and oxygen consumption rates of Crassostrea gigas. Aquaculture 134:143-154.',
    seen: 'quoted in a stored public wiki on shellfish and climate',
  },
  MARSHALL12: {
    cite: 'Marshall R, McKinley RS, Pearce CM 2012. Effect of temperature on gonad development of the Pacific geoduck clam (Panopea generosa). Aquaculture 338-341:264-273; and Marshall R 2012, PhD thesis, University of British Columbia.',
    seen: 'abstracts of both (volume from memory)',
  },
  ZELANDICA: {
    cite: 'Le DV, Alfaro AC, Ragg NLC, Hilton Z, King N 2016-17. Functional morphology and performance of New Zealand geoduck clam (Panopea zelandica) larvae reared in a flow-through system. Aquaculture.',
    seen: 'abstract (authors and year from memory)',
  },
  ACQUA19: {
    cite: 'Acquafredda MP, Munroe DM, Ragone Calvo LM, De Luca M 2019. The effect of rearing temperature on the survival and growth of early juvenile Atlantic surfclams (Spisula solidissima). Aquaculture Reports 13:100176.',
    seen: 'abstract',
  },
  TIVELA24: {
    cite: 'Clearance rates of sand-burrowed and laterally pressed adult Pismo clams (Tivela stultorum). Biology Open 13(4):bio060268, 2024 (author names not seen).',
    seen: 'abstract',
  },
  MESODESMA: {
    cite: 'Effect of salinity on embryo-larval development of yellow clam Mesodesma mactroides in laboratory. Anais da Academia Brasileira de Ciencias (author names and year not seen).',
    seen: 'abstract',
  },
  LIU06: {
    cite: 'Liu B, Dong B, Tang B, Zhang T, Xiang J 2006. Effect of stocking density on growth, settlement and survival of clam larvae, Meretrix meretrix. Aquaculture 258:344-349.',
    seen: 'abstract',
  },
  MERETRIXO2: {
    cite: 'Effects of low dissolved oxygen on the digging behaviour and metabolism of the hard clam (Meretrix lusoria). Aquaculture Research, 2010-11 (author names not seen).',
    seen: 'abstract',
  },
  COCKLE: {
    cite: 'Effects of stocking density, ration, and temperature on growth of early post-settled juveniles of the basket cockle, Clinocardium nuttallii (author names not seen; Aquaculture).',
    seen: 'abstract',
  },
  HEASMAN96: {
    cite: "Heasman MP, O'Connor WA, Frazer AW 1996. Effects of fertilization and incubation factors on the quality and yield of scallop, Pecten fumatus, larvae. J. Shellfish Research 15.",
    seen: 'abstract',
  },
  LAING98: {
    cite: 'Laing I, Chang RW 1998. Hatchery cultivation of Pacific oyster juveniles using algae produced in outdoor bloom-tanks. Aquaculture International 6:303-315.',
    seen: 'abstract',
  },
  SOBRAL97: {
    cite: 'Sobral P, Widdows J 1997. Effects of elevated temperatures on the scope for growth and resistance to air exposure of the clam Ruditapes decussatus. Scientia Marina 61:163-171.',
    seen: 'abstract',
  },
  KEPPEL16: {
    cite: 'Keppel AG, Breitburg DL, Burrell RB 2016. Effects of co-varying diel-cycling hypoxia and pH on growth in the juvenile eastern oyster. PLoS ONE 11:e0161088.',
    seen: 'abstract (year from memory)',
  },
  DAMARIS: {
    cite: 'Growth and mortality of cultured bay scallops in the Damariscotta River, Maine (author names not seen; Aquaculture International).',
    seen: 'abstract',
  },
  'NB-OYSTER24': {
    cite: "Huffmyer AS, open research notebook, 13 June 2024: write-up of one production hatchery's strip-spawning routine for Pacific oyster.",
    seen: 'whole entry',
  },
  'NB-GEODUCK17': {
    cite: 'Open research notebook of a university shellfish group, May 2017: geoduck larval trials in a production hatchery.',
    seen: 'whole entry',
  },
  'NB-OYSTER17': {
    cite: 'Venkataraman YR, open research notebook, July-August 2017: Pacific oyster broodstock and larvae in a research hatchery.',
    seen: 'two entries whole, two in part',
  },
  BK84: {
    cite: 'Benson BB, Krause D 1984. The concentration and isotopic fractionation of oxygen dissolved in freshwater and seawater in equilibrium with the atmosphere. Limnology and Oceanography 29:620-632.',
    seen: 'the equation, in public source code',
  },
} as const satisfies Readonly<Record<string, Source>>;

export type Source = { readonly cite: string; readonly seen: string };
export type SourceKey = keyof typeof SOURCES;
