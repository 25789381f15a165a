import type { ReportFacts } from './facts.ts';
import { massSection, otherQuestionsSection, restsOnSection } from './sections/behind.ts';
import { checklistSection } from './sections/checklist.ts';
import { claimSection, questionSection, rulesSection } from './sections/claim.ts';
import { evidenceSection } from './sections/evidence.ts';
import { cautionsSection, methodsSection, sourcesSection } from './sections/methods.ts';
import { partsSection } from './sections/parts.ts';
import { piecesSection } from './sections/pieces.ts';
import { publishedSection } from './sections/published.ts';
import { roundsSection } from './sections/rounds.ts';
import { controlsSection, filtersSection, recordSection, runsSection } from './sections/runs.ts';
import type { Report, Section } from './tree.ts';
import { moment } from './words.ts';

/** From records to the tree that every renderer walks. Pure: the same facts give the same report. */
export function buildReport(facts: ReportFacts): Report {
  const sections: (Section | null)[] = [
    claimSection(facts),
    questionSection(facts),
    runsSection(facts),
    controlsSection(facts),
    filtersSection(facts),
    piecesSection(facts),
    partsSection(facts),
    massSection(facts),
    otherQuestionsSection(facts),
    evidenceSection(facts),
    roundsSection(facts),
    restsOnSection(facts),
    recordSection(facts),
    methodsSection(facts),
    publishedSection(facts),
    rulesSection(facts),
    checklistSection(facts),
    cautionsSection(facts),
    sourcesSection(),
  ];
  return {
    title: facts.study.name,
    subtitle: `Report of ${facts.laboratory}, ${moment(facts.madeAt)}`,
    remarks: facts.study.invented
      ? ['Everything in this study is invented, to show how the program works. No product was tested.']
      : [],
    sections: sections.filter((section): section is Section => section !== null),
    madeAt: facts.madeAt,
    program: facts.program,
  };
}
