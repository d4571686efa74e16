import { Controller } from '@nestjs/common';

@Controller()
export class SignalsController {}
