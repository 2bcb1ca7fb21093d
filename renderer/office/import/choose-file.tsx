import { DropZone, FileTrigger, Label, Radio, RadioGroup } from 'react-aria-components';
import type { FileDropItem } from 'react-aria-components';
import { Button, ButtonLink, formatBytes, Section, SelectField } from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { csvOf, saveText, splitCsv } from './import-files.ts';
import { LISTS } from './import-lists.ts';
import type { Target } from './import-lists.ts';
import type { Import } from './use-import.ts';

/** First step: which kind of list, and which file. */
export function ChooseFile({ work }: { work: Import }) {
  const list = LISTS.find(({ id }) => id === work.target) ?? LISTS[0];
  const stations = useRequest('station.list', work.target === 'weather' ? {} : null).data?.stations;
  return (
    <Section title="1. The list">
      <RadioGroup
        className="list-kinds"
        value={work.target}
        onChange={(next) => work.chooseTarget(next as Target)}
        orientation="horizontal"
      >
        <Label className="visually-hidden">What the list holds</Label>
        {LISTS.map(({ id, title, row }) => (
          <Radio key={id} value={id} className="list-kind">
            <span className="list-kind-title">{title}</span>
            <span className="small">{row}</span>
          </Radio>
        ))}
      </RadioGroup>
      <div className="list-help">
        <p>{list?.useful}</p>
        <p>
          <Button
            onPress={() => saveText(`example-${list?.id ?? 'list'}.csv`, csvOf(splitCsv(list?.example ?? '', ',')))}
          >
            Save an example CSV
          </Button>{' '}
          <span className="small quiet">
            Invented names. Column names need not match: you choose below what each column means.
          </span>
        </p>
      </div>
      {work.target === 'weather' ? (
        <div className="list-station">
          {stations !== undefined && stations.length === 0 ? (
            <p>
              Daily weather belongs to a station, and the book has none yet.{' '}
              <ButtonLink href="#/company/weather">Add a weather station</ButtonLink>
            </p>
          ) : (
            <SelectField
              label="Weather station"
              value={work.stationId ?? ''}
              onChange={(id) => work.setStationId(id === '' ? null : id)}
              isRequired
              placeholder="Choose the station these days belong to"
              options={(stations ?? []).map(({ id, name, dailyRecords }) => ({
                id,
                label: dailyRecords === 0 ? name : `${name}, ${dailyRecords} days held`,
              }))}
              error={work.failure?.field === 'stationId' ? work.failure.message : null}
            />
          )}
        </div>
      ) : null}
      <DropZone
        className="drop-zone"
        aria-label="Drop a CSV file here"
        getDropOperation={() => 'copy'}
        onDrop={(event) => {
          const item = event.items.find((one): one is FileDropItem => one.kind === 'file');
          if (item !== undefined) void item.getFile().then(work.choose);
        }}
      >
        <p>
          {work.chosen === null ? (
            'Drop a CSV file here, or choose it.'
          ) : (
            <>
              <strong>{work.chosen.file.name}</strong>{' '}
              <span className="quiet">{formatBytes(work.chosen.file.size)}</span>
            </>
          )}
        </p>
        <FileTrigger
          acceptedFileTypes={['.csv', '.txt', '.tsv', 'text/csv', 'text/plain', 'text/tab-separated-values']}
          onSelect={(files) => {
            const file = files?.[0];
            if (file !== undefined) void work.choose(file);
          }}
        >
          <Button
            look={work.chosen === null ? 'primary' : 'plain'}
            isDisabled={work.running === 'read' || work.running === 'apply'}
          >
            {work.chosen === null ? 'Choose file…' : 'Choose another file…'}
          </Button>
        </FileTrigger>
        <p className="small quiet">
          In a spreadsheet: save or download as CSV. Comma, semicolon or tab, any usual encoding; 50,000 rows are no
          trouble. The file stays on this machine; nothing is changed until you import.
        </p>
      </DropZone>
    </Section>
  );
}
