// Name and version as the workshop has them, in the job itself: what is printed of a design says the
// same as the page.
import type { DesignDocument } from '../api/types';
import { read, write } from '../lib/jobpath';

export function titled(document: DesignDocument, name: string, version: number): DesignDocument {
  if (read(document.job, 'job.name') === name && read(document.job, 'job.version') === version) return document;
  return { ...document, job: write(write(document.job, 'job.name', name), 'job.version', version) };
}
