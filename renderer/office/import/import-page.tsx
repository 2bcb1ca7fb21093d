import './import.css';
import { useState } from 'react';
import { Label, Radio, RadioGroup } from 'react-aria-components';
import { Button, ErrorNote, plural, Progress, Section } from '../../parts/index.ts';
import { ChooseFile } from './choose-file.tsx';
import type { Preview } from './import-files.ts';
import { ImportReport } from './import-report.tsx';
import { MatchColumns } from './match-columns.tsx';
import { PreviewResult } from './preview-result.tsx';
import { useImport } from './use-import.ts';
import type { Import } from './use-import.ts';

/** From any CSV to the book: choose, match, look, import. One page, read from top to bottom. */
export default function ImportPage() {
  const work = useImport();
  const { chosen, preview, report, failure, running } = work;
  const placed =
    failure?.field === 'stationId' || (failure?.field?.startsWith('mapping.') === true && preview !== null);
  return (
    <div className="page import-page">
      <h1>Import a list</h1>
      {report === null ? (
        <>
          <ChooseFile work={work} />
          {failure === null || placed ? null : (
            <ErrorNote error={failure} {...(chosen === null ? {} : { onRetry: work.readAgain })} />
          )}
          {running === 'read' || (running === 'preview' && preview === null) ? (
            <Progress
              progress={work.progress}
              label="Reading the file"
              {...(running === 'preview' ? { onCancel: work.stop } : {})}
            />
          ) : null}
          {chosen !== null && preview !== null ? (
            <>
              <MatchColumns work={work} preview={preview} />
              {running === 'preview' ? (
                <Progress progress={work.progress} label="Reading the file again" onCancel={work.stop} />
              ) : null}
              <PreviewResult preview={preview} file={chosen.file} stale={running === 'preview'} />
              <Apply work={work} preview={preview} />
            </>
          ) : null}
        </>
      ) : (
        <ImportReport
          report={report}
          file={chosen?.file ?? null}
          headers={preview?.columns ?? []}
          onAgain={work.startOver}
        />
      )}
    </div>
  );
}

/** Last step: which rows, and off it goes. */
function Apply({ work, preview }: { work: Import; preview: Preview }) {
  const [mode, setMode] = useState<'good-rows' | 'all-or-none'>('good-rows');
  const blocked = preview.goodRows === 0 || (mode === 'all-or-none' && preview.badRows > 0);
  const why =
    preview.goodRows === 0
      ? 'There is no good row to import yet.'
      : blocked
        ? `${plural(preview.badRows, 'row has', 'rows have')} to be mended first.`
        : '';
  return (
    <Section title="4. Import">
      <RadioGroup className="apply-mode" value={mode} onChange={(next) => setMode(next as typeof mode)}>
        <Label className="visually-hidden">Which rows</Label>
        <Radio value="good-rows" className="apply-choice">
          <span>
            <strong>All good rows.</strong> Rows to mend stay out; mend and import them later.
          </span>
        </Radio>
        <Radio value="all-or-none" className="apply-choice">
          <span>
            <strong>Only if every row is good.</strong> With one bad row nothing is imported.
          </span>
        </Radio>
      </RadioGroup>
      {work.running === 'apply' ? (
        <Progress progress={work.progress} label="Importing" onCancel={work.stop} />
      ) : (
        <p className="apply-button">
          <Button look="primary" isDisabled={blocked || work.running !== null} onPress={() => void work.apply(mode)}>
            Import {plural(preview.goodRows, 'row')}
          </Button>
          <span className="quiet">{why}</span>
        </p>
      )}
    </Section>
  );
}
