/** Placeholder until this screen is built. */
export default function ReviewDesk() {
  return <p className="waiting">This screen is being built.</p>;
}
