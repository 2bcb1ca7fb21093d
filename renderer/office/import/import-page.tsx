/** Placeholder until this screen is built. */
export default function ImportPage() {
  return <p className="waiting">This screen is being built.</p>;
}
