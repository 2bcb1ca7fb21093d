/** Placeholder until this screen is built. */
export default function ProgramsPage() {
  return <p className="waiting">This screen is being built.</p>;
}
