import { DropZone, FileTrigger, Label, Radio, RadioGroup } from 'react-aria-components';
import type { FileDropItem } from 'react-aria-components';
import { Button, ButtonLink, formatBytes, Section, SelectField } from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { csvOf, saveText, splitCsv } from './import-files.ts';
import { LISTS } from './import-lists.ts';
import type { Target } from './import-lists.ts';
import type { Import } from './use-import.ts';
import { say, sayError } from '../../state/say.ts';

/** First step: which kind of list, and which file. */
export function ChooseFile({ work }: { work: Import }) {
  const list = LISTS.find(({ id }) => id === work.target) ?? LISTS[0];
  const stations = useRequest('station.list', work.target === 'weather' ? {} : null).data?.stations;
  return (
    <Section title={say('import.step1')}>
      <RadioGroup
        className="list-kinds"
        value={work.target}
        onChange={(next) => work.chooseTarget(next as Target)}
        orientation="horizontal"
      >
        <Label className="visually-hidden">{say('import.whatHolds')}</Label>
        {LISTS.map(({ id }) => (
          <Radio key={id} value={id} className="list-kind">
            <span className="list-kind-title">{say(`import.list.${id}`)}</span>
            <span className="small">{say(`import.row.${id}`)}</span>
          </Radio>
        ))}
      </RadioGroup>
      <div className="list-help">
        <p>{say(`import.useful.${work.target}`)}</p>
        <p>
          <Button
            onPress={() => saveText(`example-${list?.id ?? 'list'}.csv`, csvOf(splitCsv(list?.example ?? '', ',')))}
          >
            {say('import.saveExample')}
          </Button>{' '}
          <span className="small quiet">{say('import.invented')}</span>
        </p>
      </div>
      {work.target === 'weather' ? (
        <div className="list-station">
          {stations !== undefined && stations.length === 0 ? (
            <p>
              {say('import.stationMissing')}{' '}
              <ButtonLink href="#/company/weather">{say('import.addStation')}</ButtonLink>
            </p>
          ) : (
            <SelectField
              label={say('import.station')}
              value={work.stationId ?? ''}
              onChange={(id) => work.setStationId(id === '' ? null : id)}
              isRequired
              placeholder={say('import.chooseStation')}
              options={(stations ?? []).map(({ id, name, dailyRecords }) => ({
                id,
                label: dailyRecords === 0 ? name : say('import.daysHeld', { name, days: dailyRecords }),
              }))}
              error={work.failure?.field === 'stationId' ? sayError(work.failure) : null}
            />
          )}
        </div>
      ) : null}
      <DropZone
        className="drop-zone"
        aria-label={say('import.dropHere')}
        getDropOperation={() => 'copy'}
        onDrop={(event) => {
          const item = event.items.find((one): one is FileDropItem => one.kind === 'file');
          if (item !== undefined) void item.getFile().then(work.choose);
        }}
      >
        <p>
          {work.chosen === null ? (
            say('import.dropOrChoose')
          ) : (
            <>
              <strong>{work.chosen.file.name}</strong>{' '}
              <span className="quiet">{formatBytes(work.chosen.file.size)}</span>
            </>
          )}
        </p>
        <FileTrigger
          acceptedFileTypes={['.csv', '.txt', '.tsv', '.dly', 'text/csv', 'text/plain', 'text/tab-separated-values']}
          onSelect={(files) => {
            const file = files?.[0];
            if (file !== undefined) void work.choose(file);
          }}
        >
          <Button
            look={work.chosen === null ? 'primary' : 'plain'}
            isDisabled={work.running === 'read' || work.running === 'apply'}
          >
            {work.chosen === null ? say('import.chooseFile') : say('import.chooseOther')}
          </Button>
        </FileTrigger>
        <p className="small quiet">{say('import.fileHelp')}</p>
      </DropZone>
    </Section>
  );
}
