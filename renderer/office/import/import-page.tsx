import './import.css';
import { useState } from 'react';
import { Label, Radio, RadioGroup } from 'react-aria-components';
import { Button, ErrorNote, Progress, Section } from '../../parts/index.ts';
import { ChooseFile } from './choose-file.tsx';
import type { Preview } from './import-files.ts';
import { ImportReport } from './import-report.tsx';
import { MatchColumns } from './match-columns.tsx';
import { PreviewResult } from './preview-result.tsx';
import { useImport } from './use-import.ts';
import type { Import } from './use-import.ts';
import { say } from '../../state/say.ts';

/** From any CSV to the book: choose, match, look, import. One page, read from top to bottom. */
export default function ImportPage() {
  const work = useImport();
  const { chosen, preview, report, failure, running } = work;
  const placed =
    failure?.field === 'stationId' || (failure?.field?.startsWith('mapping.') === true && preview !== null);
  return (
    <div className="page import-page">
      <h1>{say('import.title')}</h1>
      {report === null ? (
        <>
          <ChooseFile work={work} />
          {failure === null || placed ? null : (
            <ErrorNote error={failure} {...(chosen === null ? {} : { onRetry: work.readAgain })} />
          )}
          {running === 'read' || (running === 'preview' && preview === null) ? (
            <Progress
              progress={work.progress}
              label={say('import.readingFile')}
              {...(running === 'preview' ? { onCancel: work.stop } : {})}
            />
          ) : null}
          {chosen !== null && preview !== null ? (
            <>
              <MatchColumns work={work} preview={preview} />
              {running === 'preview' ? (
                <Progress progress={work.progress} label={say('import.readingAgain')} onCancel={work.stop} />
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
      ? say('import.noGoodRow')
      : blocked
        ? say('import.mendFirst', { rows: preview.badRows })
        : '';
  return (
    <Section title={say('import.step4')}>
      <RadioGroup className="apply-mode" value={mode} onChange={(next) => setMode(next as typeof mode)}>
        <Label className="visually-hidden">{say('import.whichRows')}</Label>
        <Radio value="good-rows" className="apply-choice">
          <span>
            <strong>{say('import.goodRowsMode')}</strong> {say('import.goodRowsModeWhy')}
          </span>
        </Radio>
        <Radio value="all-or-none" className="apply-choice">
          <span>
            <strong>{say('import.allMode')}</strong> {say('import.allModeWhy')}
          </span>
        </Radio>
      </RadioGroup>
      {work.running === 'apply' ? (
        <Progress progress={work.progress} label={say('import.importing')} onCancel={work.stop} />
      ) : (
        <p className="apply-button">
          <Button look="primary" isDisabled={blocked || work.running !== null} onPress={() => void work.apply(mode)}>
            {say('import.importRows', { rows: preview.goodRows })}
          </Button>
          <span className="quiet">{why}</span>
        </p>
      )}
    </Section>
  );
}
