import { mailLink, phoneLink } from '../../core/contract/contact-links.ts';

/** A phone number to tap; plain words where it is no number that can be called. */
export function PhoneLink({ phone, className = '' }: { phone: string; className?: string }) {
  const href = phoneLink(phone);
  return href === null ? (
    <span className={className}>{phone}</span>
  ) : (
    <a className={className} href={href}>
      {phone}
    </a>
  );
}

/** An address to write to; plain words where it is no single address. */
export function MailLink({ email }: { email: string }) {
  const href = mailLink(email);
  return href === null ? <span>{email}</span> : <a href={href}>{email}</a>;
}
