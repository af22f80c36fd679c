import type PDFDocument from 'pdfkit'

/** Ends a document and gives its bytes. */
export const bytesOf = async (doc: InstanceType<typeof PDFDocument>): Promise<Uint8Array> => {
  const parts: Uint8Array[] = []
  doc.on('data', (part: Uint8Array) => parts.push(part))
  const done = new Promise<void>((resolve, reject) => {
    doc.on('end', resolve)
    doc.on('error', reject)
  })
  doc.end()
  await done
  return new Uint8Array(Buffer.concat(parts))
}
