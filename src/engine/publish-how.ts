/** How a guide is to be printed. */
export interface PublishHow {
  format: 'html' | 'markdown' | 'text' | 'pdf' | 'docx';
  copy: 'leader' | 'handout';
  paper: 'A4' | 'Letter';
  preset?: 'usual' | 'large' | 'dyslexia' | 'plain';
  lines?: 'ruled' | 'dotted' | 'plain';
  /** The form of citations; plain, author and title in words, when left out. */
  cite?: 'plain' | 'mla' | 'apa';
}
