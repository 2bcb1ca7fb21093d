/** Placeholder until this screen is built. */
export default function ProgramReviewPage(_props: { propertyId: string }) {
  return <p className="waiting">This screen is being built.</p>;
}
