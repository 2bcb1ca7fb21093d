/** Placeholder until this screen is built. */
export default function CalendarPage() {
  return <p className="waiting">This screen is being built.</p>;
}
